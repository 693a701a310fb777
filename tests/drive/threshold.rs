//! Stall threshold and hold limit of the ground joint against closed forms, and against transients.

use stallpoint::circuit::OperatingOptions;
use stallpoint::drive::{Direction, Drive, Fault, First};

use super::support::{boat_lift, ground_return, start};

/// Everything but the ground joint in the loop at 20 °C, ohm: by the description, not by the simulation.
fn other_resistances(drive: &Drive) -> f64 {
    let cable = |cable: &stallpoint::parts::Cable| cable.resistance();
    let contact = |contact: &stallpoint::parts::Contact| contact.closed_resistance.si();
    let joints: f64 = stallpoint::drive::JOINTS
        .iter()
        .filter(|name| !["ground_stud_joint", "case_joint"].contains(name))
        .map(|name| drive.joint(name).unwrap().resistance.si())
        .sum();
    drive.battery.resistance()
        + drive.battery_lead.as_ref().map_or(0.0, cable)
        + contact(&drive.isolator.contact)
        + drive.isolator_lead.as_ref().map_or(0.0, cable)
        + contact(&drive.breaker.as_ref().unwrap().contact)
        + cable(&drive.supply_cable)
        + 2.0 * contact(&drive.contactor.contacts)
        + 2.0 * drive.motor_lead.as_ref().map_or(0.0, cable)
        + cable(&drive.ground_cable)
        + joints
        + 0.042 // the motor of the boat lift
}

/// The coil takes a current of its own through battery, leads and isolator: a drive without that is exactly the closed form.
fn without_coil_current() -> Drive {
    let far = "1 Mohm";
    boat_lift()
        .with_values([
            ("control.supply_wire_resistance", far),
            ("battery.polarisation_resistance", "1 nohm"), // slow, held at its start: zero
        ])
        .unwrap()
}

#[test]
fn exact_stall_threshold() {
    // R_total = (V_oc - V_brush) K_t / T_breakaway; lifting adds gravity to the breakaway torque, lowering takes it off.
    let drive = without_coil_current();
    for (direction, torque) in [(Direction::Forward, 3.1 + 0.6), (Direction::Reverse, 3.1 - 0.6)] {
        let current = torque / 0.05;
        // The brush drop at this current, by the motor's own smoothing: 0.8 V tanh(i / 1 A), exactly 0.8 V here.
        let total = (drive.battery.open_circuit_voltage() - 0.8) / current;
        let closed_form = total - other_resistances(&drive);
        let found = drive.stall_threshold("ground_stud_joint", direction).unwrap();
        let relative = found.stalls_at.unwrap() / closed_form - 1.0;
        assert!(relative.abs() < 1e-6, "{direction}: {:?} against {closed_form}: {relative:e}", found.stalls_at);
    }
}

#[test]
fn exact_a_coil_with_its_own_return_never_lets_go() {
    for direction in Direction::BOTH {
        let found = boat_lift().stall_threshold("ground_stud_joint", direction).unwrap();
        assert_eq!((found.drops_out_at, found.which_first), (None, First::Stalls));
    }
}

#[test]
fn exact_at_the_threshold_the_operating_point_changes() {
    let drive = boat_lift();
    let threshold = drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    for (factor, stuck) in [(1.0 - 1e-6, false), (1.0 + 1e-6, true)] {
        let faulty = drive.with_fault(&Fault::joint("ground_stud_joint", factor * threshold).unwrap()).unwrap();
        let op = faulty.operating_point(Some(Direction::Forward), &OperatingOptions::default()).unwrap();
        assert_eq!(op.stuck, stuck, "{factor}");
    }
}

#[test]
fn exact_by_transient_within_a_thousandth() {
    // Without a slow state: the winding would warm and the battery's polarisation build up.
    let mut drive = boat_lift();
    drive.battery.polarisation_resistance = None;
    drive.battery.polarisation_capacitance = None;
    let drive = drive.with_values([("motor.heat_capacity", "1e9 J/K")]).unwrap();
    let threshold = drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    for (factor, stalls) in [(0.999, false), (1.001, true)] {
        let faulty = drive.with_fault(&Fault::joint("ground_stud_joint", factor * threshold).unwrap()).unwrap();
        assert_eq!(start(&faulty, Direction::Forward, 1.0).surge.stalled, stalls, "{factor}");
    }
}

#[test]
fn exact_hold_limit() {
    let drive = ground_return();
    for direction in Direction::BOTH {
        let found = drive.stall_threshold("ground_stud_joint", direction).unwrap();
        let limit = found.drops_out_at.unwrap();
        // At the limit the coil carries its drop-out current: seen in the operating point with the shaft blocked and the
        // contactor held, on both sides.
        for (factor, holds) in [(1.0 - 1e-6, true), (1.0 + 1e-6, false)] {
            let faulty = drive.with_fault(&Fault::joint("ground_stud_joint", factor * limit).unwrap()).unwrap();
            let blocked = faulty.with_values([("load.0.breakaway", "1e6 N m")]).unwrap();
            let op = blocked.operating_point(Some(direction), &OperatingOptions::default());
            assert_eq!(op.is_ok(), holds, "{direction} at {factor} of the limit");
        }
    }
    // Lifting stalls before the contactor lets go, lowering (an easier start) only after.
    let first = |direction| drive.stall_threshold("ground_stud_joint", direction).unwrap().which_first;
    assert_eq!((first(Direction::Forward), first(Direction::Reverse)), (First::Stalls, First::DropsOut));
}

/// Shorted turns of the motor: the constant falls to `K u` and the resistance to `R u`, `u = (1 - 2 s) / (1 - s)`.
#[test]
fn exact_stall_threshold_with_shorted_turns_of_the_motor() {
    let drive = without_coil_current().with_values([("motor.faults.shorted_turns", 0.2)]).unwrap();
    let left = 0.6 / 0.8;
    let total = (drive.battery.open_circuit_voltage() - 0.8) / ((3.1 + 0.6) / (0.05 * left));
    let closed_form = total - (other_resistances(&drive) - 0.042 * (1.0 - left));
    let found = drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    assert!((found / closed_form - 1.0).abs() < 1e-6, "{found} against {closed_form}");
}

/// Shorted turns of the coil: the ampere-turns hold, so that the limit is where the run's own contactor lets go.
#[test]
fn exact_hold_limit_with_shorted_turns_of_the_coil() {
    let drive = ground_return().with_values([("contactor.faults.coil_b.shorted_turns", 0.3)]).unwrap();
    let limit = drive.stall_threshold("ground_stud_joint", Direction::Reverse).unwrap().drops_out_at.unwrap();
    for (factor, holds) in [(1.0 - 1e-6, true), (1.0 + 1e-6, false)] {
        let faulty = drive.with_fault(&Fault::joint("ground_stud_joint", factor * limit).unwrap()).unwrap();
        let blocked = faulty.with_values([("load.0.breakaway", "1e6 N m")]).unwrap();
        let op = blocked.operating_point(Some(Direction::Reverse), &OperatingOptions::default());
        assert_eq!(op.is_ok(), holds, "at {factor} of the limit");
    }
}

#[test]
fn exact_a_joint_that_cannot_matter_has_no_threshold() {
    let found = boat_lift().stall_threshold("case_joint", Direction::Forward).unwrap();
    assert_eq!((found.stalls_at, found.drops_out_at, found.which_first), (None, None, First::Neither));
}

/// Both carry the motor's current alone: a longer cable adds what the joint may add.
#[test]
fn exact_a_cable_may_grow_by_what_the_joint_may() {
    let drive = without_coil_current();
    let ohms = |length: f64| {
        let longer = drive.with_values([("supply_cable.length", length)]).unwrap();
        longer.supply_cable.resistance()
    };
    for direction in Direction::BOTH {
        let joint = drive.stall_threshold("supply_stud_joint", direction).unwrap().stalls_at.unwrap();
        let margin = joint - drive.joint("supply_stud_joint").unwrap().resistance.si();
        let length = drive.supply_cable.length.si();
        let found = drive.stall_threshold_of("supply_cable.length", length, 1e4 * length, direction).unwrap();
        let added = ohms(found.stalls_at.unwrap()) - ohms(length);
        assert!((added / margin - 1.0).abs() < 1e-6, "{direction}: {added} {margin}");
    }
}

/// `R_series = (V_oc - V_brush) K_t / T_breakaway - R_others`.
#[test]
fn exact_battery_resistance_at_the_stall() {
    let drive = without_coil_current();
    let total = (drive.battery.open_circuit_voltage() - 0.8) / (3.7 / 0.05);
    let joint = drive.joint("ground_stud_joint").unwrap().resistance.si();
    let others = other_resistances(&drive) + joint - drive.battery.resistance();
    let found = drive.stall_threshold_of("battery.series_resistance", 1e-4, 10.0, Direction::Forward).unwrap();
    let worn =
        drive.with_values([("battery.series_resistance", found.stalls_at.unwrap())]).unwrap().battery.resistance();
    assert!((worn / (total - others) - 1.0).abs() < 1e-6, "{worn} {}", total - others);
}

#[test]
fn prop_charge_falls_to_the_stall_and_errors_name_the_parameter() {
    // A little bad joint, so that charge decides.
    let joint = 0.99 * boat_lift().stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    let weak = boat_lift().with_fault(&Fault::joint("ground_stud_joint", joint).unwrap()).unwrap();
    let found = weak.stall_threshold_of("battery.state_of_charge", 1.0, 0.0, Direction::Forward).unwrap();
    let charge = found.stalls_at.unwrap();
    assert!(charge > 0.0 && charge < 1.0, "{charge}");
    for (factor, stuck) in [(1.001, false), (0.999, true)] {
        let drive = weak.with_values([("battery.state_of_charge", factor * charge)]).unwrap();
        let op = drive.operating_point(Some(Direction::Forward), &OperatingOptions::default()).unwrap();
        assert_eq!(op.stuck, stuck, "{factor}");
    }
    let error =
        |key: &str, good, bad| weak.stall_threshold_of(key, good, bad, Direction::Forward).unwrap_err().to_string();
    assert!(error("battery.moon", 1.0, 2.0).contains("battery.moon"));
    assert!(error("supply_cable.length", 1.0, 1.0).contains("`bad`"));
    assert!(error("supply_cable.length", f64::NAN, 1.0).contains("`good`"));
}

/// A film that breaks down under the locked rotor's current does not hide the stall behind it; one that holds is what stalls.
#[test]
fn exact_a_film_that_breaks_down_leaves_the_threshold() {
    let with_films = |films: &[(&str, &str, &str)]| {
        let mut drive = boat_lift();
        for &(name, resistance, volts) in films {
            let (resistance, breakdown_voltage) = (resistance.parse().unwrap(), volts.parse().unwrap());
            let mut joint = drive.joint(name).unwrap();
            joint.film = Some(stallpoint::parts::Film { resistance, breakdown_voltage, ..Default::default() });
            drive.joints.insert(name.into(), joint);
        }
        drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap()
    };
    let bare = with_films(&[]);
    assert_eq!(with_films(&[("ground_stud_joint", "3 ohm", "5 V")]), bare);
    assert_eq!(with_films(&[("ground_stud_joint", "3 ohm", "50 V")]), 0.0);
    // Of 12.6 V across two like films each has less than its 8 V, though either alone would break down.
    let pair = [("ground_stud_joint", "3 ohm", "8 V"), ("supply_stud_joint", "3 ohm", "8 V")];
    assert_eq!([with_films(&pair[..1]), with_films(&pair[1..])], [bare, bare]);
    assert_eq!(with_films(&pair), 0.0);
    // So little resistance that the locked rotor's current never gets to 5 V across it: it adds to the joint instead.
    let thin = with_films(&[("ground_stud_joint", "10 mohm", "5 V")]);
    assert!((thin + 0.01 - bare).abs() < 1e-6, "{thin} and {bare}");
}
