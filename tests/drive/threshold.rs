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
        + contact(&drive.breaker.contact)
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
