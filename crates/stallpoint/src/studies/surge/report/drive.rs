//! The drive as understood: one line a part.

use crate::drive::{CoilReturn, ControlSupply, Drive, Protection};
use crate::parts::{Battery, Cable, ContactorDuty, Joint, Reset, RestPosition, ReversingContactor};
use crate::report::{Document, Table, percent, quantity};
use crate::tables::Chemistry;

pub(super) fn add(drive: &Drive, report: &mut Document) {
    report.heading(2, "The drive as understood");
    let mut table = Table::new(2, ["part", "data"]);
    table.row(["battery".into(), battery(&drive.battery)]);
    let mut lead = |name: &str, cable: &Option<Cable>| {
        let words = cable.as_ref().map_or_else(|| "bus bar (no cable is described)".into(), self::cable);
        table.row([name.into(), words]);
    };
    lead("battery lead", &drive.battery_lead);
    lead("isolator lead", &drive.isolator_lead);
    table.row(["isolator".into(), format!("{} closed", ohms(drive.isolator.contact.closed_resistance.si()))]);
    table.row([drive.protection().name().into(), device(&drive.protection())]);
    table.row(["supply cable".into(), cable(&drive.supply_cable)]);
    table.row(["reversing contactor".into(), contactor(&drive.contactor)]);
    let leads = drive
        .motor_lead
        .as_ref()
        .map_or_else(|| "bus bars (no cable is described)".into(), |lead| format!("each {}", cable(lead)));
    table.row(["motor leads".into(), leads]);
    table.row(["motor".into(), drive.motor.in_words()]);
    for one in &drive.load {
        table.row(["load".into(), one.about().in_words()]);
    }
    table.row(["ground cable".into(), cable(&drive.ground_cable)]);
    table.row(["joints".into(), joints(drive)]);
    table.row(["control".into(), control(drive)]);
    report.table(table);
}

fn ohms(value: f64) -> String {
    quantity(value, "ohm")
}

fn battery(battery: &Battery) -> String {
    let chemistry = match battery.chemistry {
        Chemistry::FloodedLeadAcid => "flooded lead-acid",
        Chemistry::AgmLeadAcid => "absorbed-glass-mat lead-acid",
        Chemistry::LithiumIronPhosphate => "lithium iron phosphate",
    };
    let amp_hours = quantity(battery.capacity.si() / 3600.0 * f64::from(battery.strings_in_parallel), "Ah");
    let polarisation = match battery.polarisation_resistance {
        Some(r) => format!(", and {} of polarisation", ohms(r.si())),
        None => String::new(),
    };
    let cut_off = battery.cut_off.as_ref().map_or_else(String::new, |own| {
        let (above, below) = (quantity(own.over_current.si(), "A"), quantity(own.under_voltage.si(), "V"));
        format!("; its management cuts off above {above} or below {below}")
    });
    let blocks = match (battery.blocks_in_series, battery.strings_in_parallel) {
        (1, 1) => String::new(),
        (series, strings) => format!("{series} blocks in series, {strings} in parallel, "),
    };
    format!(
        "{blocks}{chemistry}, {amp_hours}, {} charged: {} open-circuit; {} in series{polarisation}{cut_off}",
        percent(battery.state_of_charge.si()),
        quantity(battery.open_circuit_voltage(), "V"),
        ohms(battery.resistance()),
    )
}

fn cable(cable: &Cable) -> String {
    let ampacity = cable.ampacity.map_or_else(String::new, |i| format!("; ampacity {}", quantity(i.si(), "A")));
    format!(
        "{}, {}: {} at {} ({}){ampacity}",
        cable.cross_section,
        quantity(cable.length.si(), "m"),
        ohms(cable.resistance()),
        celsius(cable.temperature_c.si()),
        cable.resistance_basis(),
    )
}

fn celsius(value: f64) -> String {
    format!("{} °C", crate::report::number(value))
}

fn device(device: &Protection) -> String {
    let rated = device.rated_current().si();
    let [first, last] = [0.0, 1.0].map(|edge| quantity(device.trips_from(edge), "A"));
    let begins = if first == last {
        format!("{first} (fastest and slowest device alike)")
    } else {
        format!("{first} (fastest device) to {last} (slowest)")
    };
    let (rated, closed) = (quantity(rated, "A"), ohms(device.closed_resistance()));
    if let Some(fuse) = device.fuse() {
        let class = fuse.class.map_or_else(String::new, |class| format!(", class {}", class.name()));
        return format!("{rated}{class}; begins to blow at {begins}; {closed} cold");
    }
    let reset = match device.reset() {
        Reset::Manual => "by hand",
        Reset::Automatic => "by itself",
        Reset::Modified => "by itself, but not while there is voltage across it",
    };
    format!("{rated}; begins to trip at {begins}; resets {reset}; {closed} closed")
}

fn contactor(contactor: &ReversingContactor) -> String {
    let rest = match contactor.rest {
        RestPosition::Braked => "both motor studs on ground at rest (braked)",
        RestPosition::Open => "open at rest (coasts)",
    };
    let ratings = [
        ("makes", contactor.making_current),
        ("carries", contactor.carrying_current),
        ("breaks", contactor.breaking_current),
    ];
    let ratings: Vec<String> =
        ratings.iter().filter_map(|(verb, i)| i.map(|i| format!("{verb} {}", quantity(i.si(), "A")))).collect();
    let mut ratings = if ratings.is_empty() { "no ratings given".into() } else { ratings.join(", ") };
    match contactor.duty {
        Some(ContactorDuty::Continuous) => ratings.push_str("; continuous duty"),
        Some(ContactorDuty::Intermittent) => ratings.push_str("; intermittent duty"),
        None => {}
    }
    format!(
        "{rest}; coils {}, {}, pull in at {}, drop out at {}; {ratings}",
        quantity(contactor.coil.rated_voltage.si(), "V"),
        ohms(contactor.coil.resistance.si()),
        quantity(contactor.pull_in_voltage.si(), "V"),
        quantity(contactor.drop_out_voltage.si(), "V"),
    )
}

fn joints(drive: &Drive) -> String {
    let described = drive.joints.iter().map(|(name, joint)| match joint.open {
        true => format!("{name} open"),
        false => format!("{name} {}", ohms(joint.resistance.si())),
    });
    let new = ohms(Joint::default().resistance.si());
    if drive.joints.is_empty() {
        return format!("as new, {new} each (none is described)");
    }
    described.chain([format!("every other as new, {new}")]).collect::<Vec<_>>().join("; ")
}

fn control(drive: &Drive) -> String {
    let device = drive.protection().name();
    let supply = match drive.control.supply {
        ControlSupply::BeforeBreaker => format!("taken before the {device}, so the coils stay energised when it opens"),
        ControlSupply::AfterBreaker => format!("taken behind the {device}, so the coils let go when it opens"),
    };
    let back = match drive.control.coil_return {
        CoilReturn::BatteryNegative => "to battery negative by a wire of their own",
        CoilReturn::GroundStud => "to the ground stud, so a bad ground joint weakens them",
        CoilReturn::Case => "to the case",
    };
    format!("{supply}; the coils return {back}")
}
