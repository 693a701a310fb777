//! What was assumed, and where numbers come from.

use std::collections::BTreeSet;

use super::super::SurgeStudy;
use super::super::withstand::AMPACITY_AMBIENT_C;
use crate::drive::{ControlWiring, Drive};
use crate::parts::motor::Armature;
use crate::parts::{Breaker, Cable, Contact, Fuse, Joint, ReversingContactor};
use crate::report::{Document, quantity};
use crate::tables::open_circuit_voltage;

/// Values that the description leaves to the library, none of which has a source.
pub(super) fn add_assumptions(study: &SurgeStudy, report: &mut Document) {
    let (drive, options) = (&study.drive, &study.options);
    report.heading(2, "Assumptions");
    report.paragraph("Values at the library's defaults, typical and without a source:");
    report.list(typical(drive));
    report.paragraph("How the study was made:");
    let time = |seconds: f64| quantity(seconds, "s");
    let mut made = vec![
        format!(
            "Each start is held {}, each stalled start {}; a reversal pauses {}; relative step tolerance {:e}.",
            time(options.hold),
            time(options.stalled_hold),
            time(options.pause),
            options.transient.rtol
        ),
        format!("A stalled motor's current falls as its winding warms from its own temperature; the times for winding and {} \
         follow it. The cables' time takes the current as steady, from as hot as the insulation allows for continuous duty.",
            drive.protection().name()
        ),
        "The slow edge of the trip band decides on protection, the fast edge on nuisance trips.".into(),
        "The fault current follows from the battery's series resistance. One that comes from a cranking rating is too high, \
         and the true fault current larger."
            .into(),
    ];
    if drive.supply_cable.ampacity.is_some() || drive.ground_cable.ampacity.is_some() {
        made.push(format!(
            "An ampacity counts as given for air of {AMPACITY_AMBIENT_C} °C (IEC 60364-5-52, from memory)."
        ));
    }
    report.list(made);
}

fn typical(drive: &Drive) -> Vec<String> {
    let mut list =
        vec![format!("Joints that are not described: {} each.", quantity(Joint::default().resistance.si(), "ohm"))];
    let buses = [
        ("battery lead", &drive.battery_lead),
        ("isolator lead", &drive.isolator_lead),
        ("motor leads", &drive.motor_lead),
    ];
    let buses: Vec<&str> = buses.iter().filter(|(_, cable)| cable.is_none()).map(|(name, _)| *name).collect();
    if !buses.is_empty() {
        list.push(format!("Bus bars of 20 µΩ for the {}.", buses.join(", ")));
    }
    let mut inductances: BTreeSet<String> = BTreeSet::new();
    for (_, cable) in drive.cables() {
        let new = Cable::new(cable.cross_section, cable.length).ok();
        if new.is_some_and(|new| new.inductance_per_metre == cable.inductance_per_metre) {
            inductances.insert(quantity(cable.inductance_per_metre.si(), "H"));
        }
    }
    list.extend(inductances.into_iter().map(|henries| format!("Inductance of cables: {henries} per metre and run.")));
    let arc = Contact::default();
    let contacts = &drive.contactor.contacts;
    let same = (contacts.arc_voltage, contacts.arc_voltage_per_metre, contacts.gap, contacts.opening_time)
        == (arc.arc_voltage, arc.arc_voltage_per_metre, arc.gap, arc.opening_time);
    if same {
        list.push(format!(
            "Arcs of the contactor: {} plus {} per millimetre of gap, {} mm in {}.",
            quantity(arc.arc_voltage.si(), "V"),
            quantity(arc.arc_voltage_per_metre.si() / 1e3, "V"),
            arc.gap.si() * 1e3,
            quantity(arc.opening_time.si(), "s")
        ));
    }
    if contacts.closed_resistance == arc.closed_resistance {
        list.push(format!("Contacts of the contactor: {} each.", quantity(arc.closed_resistance.si(), "ohm")));
    }
    list.extend(contactor(&drive.contactor));
    list.extend(device(drive));
    let motor = drive.motor.armature();
    let new = Armature::new(1.0, 1.0).ok(); // only its defaults count
    if motor.brush_drop.si() > 0.0 && new.is_some_and(|new| new.brush_current == motor.brush_current) {
        list.push(format!(
            "The brushes' drop is there in full above {}.",
            quantity(3.0 * motor.brush_current.si(), "A")
        ));
    }
    let (own, default) = (&drive.control, ControlWiring::default());
    let wires = |c: &ControlWiring| [c.supply_wire_resistance, c.signal_wire_resistance, c.return_wire_resistance];
    if wires(own) == wires(&default) {
        let [supply, signal, back] = wires(own).map(|r| quantity(r.si(), "ohm"));
        list.push(format!("Control wires: supply {supply}, each signal {signal}, coil return {back}."));
    }
    if drive.contactor.coil.open_inductance.is_none() {
        list.push("Inductance of the coils: in proportion to a measured 12 V relay coil of 275 Ω.".into());
    }
    list
}

/// What of a contactor's times is as [`ReversingContactor::new`] has it.
fn contactor(contactor: &ReversingContactor) -> Vec<String> {
    let made = ReversingContactor::new(contactor.coil.clone(), contactor.pull_in_voltage, contactor.drop_out_voltage);
    let Ok(new) = made else { return Vec::new() };
    let mut list = Vec::new();
    if contactor.operate_time == new.operate_time {
        list.push(format!("Contactor: {} from pull-in to first touch.", quantity(new.operate_time.si(), "s")));
    }
    if contactor.release_time == new.release_time {
        list.push(format!("Contactor: {} from drop-out to rest.", quantity(new.release_time.si(), "s")));
    }
    if contactor.bounce == new.bounce && !new.bounce.is_empty() {
        let last = new.bounce.last().map_or(0.0, |last| last.si());
        let (touches, lasts) = (new.bounce.len() / 2, quantity(last, "s"));
        list.push(format!("Contactor: closing contacts bounce {touches} times within {lasts}."));
    }
    list
}

fn device(drive: &Drive) -> Option<String> {
    let device = drive.protection();
    let (rated, band) = (device.rated_current(), device.band().clone());
    let (words, usual) = match device.fuse() {
        Some(_) => ("Fuse below its least fusing current", Fuse::new(rated, band).ok()?.cooling_time_constant),
        None => ("Breaker below its pick-up", Breaker::new(rated, band).ok()?.cooling_time_constant),
    };
    (device.counts_as().cooling_time_constant == usual)
        .then(|| format!("{words}: what has accumulated decays with a time constant of {}.", quantity(usual.si(), "s")))
}

pub(super) fn add_sources(drive: &Drive, report: &mut Document) {
    report.heading(2, "Sources");
    let mut sources = vec![format!(
        "Open-circuit voltage of the battery: {}.",
        open_circuit_voltage(drive.battery.chemistry).table().source()
    )];
    let bases: BTreeSet<String> = drive.cables().into_iter().map(|(_, cable)| cable.resistance_basis()).collect();
    sources.extend(
        bases
            .into_iter()
            .map(|basis| format!("Resistance of cables: {basis}; its change with temperature: IEC 60028.")),
    );
    sources.extend([
        "Accumulated trip integral: IEEE C37.112; its decay below pick-up is our own.".to_string(),
        "Withstand of cables: IEC 60364-5-54, Annex A, for short times; our own combination with the ampacity for long \
         ones."
            .into(),
        "Breaker or fuse and ampacity, 1.45 times: IEC 60364-4-43, 433.1 (from memory).".into(),
        "Copper of coils and windings: 0.00393 per kelvin at 20 °C, IEC 60028.".into(),
        "Least voltage of an arc between silver contacts: R. Holm, Electric Contacts, 4th edition.".into(),
        "Everything else: the drive's description.".into(),
    ]);
    report.list(sources);
}
