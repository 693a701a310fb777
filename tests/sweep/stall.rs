//! The stall against the closed-form resistance.

use stallpoint::circuit::Flow;
use stallpoint::drive::{Direction, Drive};
use stallpoint::parts::load::Load;
use stallpoint::parts::motor::Motor;
use stallpoint::studies::sweep::{Axis, SweepOptions, sweep};

use super::support::{boat_lift, held, measures};

/// Resistance of the ground stud joint at which the locked-rotor torque equals the breakaway torque:
/// the motor's branch and the coil's branch side by side behind the resistance `shared` from battery to breaker,
/// `V_oc - shared (I + I_c) = V_brush + (rest + R_joint) I`, `V_oc - shared (I + I_c) = R_c I_c`, `K_t I = T`.
fn threshold(drive: &Drive, direction: Direction) -> f64 {
    let Motor::PermanentMagnet(motor) = &drive.motor else { panic!("the boat lift has a permanent-magnet motor") };
    let mut torque = 0.0;
    for load in &drive.load {
        torque += match load {
            Load::ResistingTorque(load) => load.breakaway.si(),
            Load::GravityTorque(load) => direction.sign() * load.torque.si(),
            _ => panic!("the boat lift has no such load"),
        };
    }
    let joint = |point: &str| drive.joint(&format!("{point}_joint")).unwrap().resistance.si();
    let joints = |points: &[&str]| points.iter().map(|point| joint(point)).sum::<f64>();
    let lead = |cable: &Option<stallpoint::parts::Cable>| cable.as_ref().unwrap().resistance();

    let shared = drive.battery.resistance()
        + joints(&["battery_positive", "isolator_in", "isolator_out", "breaker_in"])
        + lead(&drive.battery_lead)
        + drive.isolator.contact.closed_resistance.si()
        + lead(&drive.isolator_lead);
    let rest = drive.breaker.as_ref().unwrap().contact.closed_resistance.si()
        + joints(&[
            "breaker_out",
            "supply_stud",
            "motor_a_stud",
            "motor_a",
            "motor_b",
            "motor_b_stud",
            "battery_negative",
        ])
        + drive.supply_cable.resistance()
        + 2.0 * drive.contactor.contacts.closed_resistance.si()
        + 2.0 * lead(&drive.motor_lead)
        + motor.resistance.si()
        + drive.ground_cable.resistance();
    let wires = &drive.control;
    let coil = wires.supply_wire_resistance.si()
        + wires.signal_wire_resistance.si()
        + drive.contactor.coil.resistance.si()
        + wires.return_wire_resistance.si();

    let current = torque / motor.torque_constant.si();
    let behind = (drive.battery.open_circuit_voltage() - shared * current) / (1.0 + shared / coil);
    (behind - motor.brush_drop.si()) / current - rest
}

/// Polarisation (0.3 % of 3 mohm in the first 5 ms) is kept out by a large capacitance; charge and winding temperature
/// move by less than 1e-5 before the current has risen.
#[test]
fn exact_stalled_flips_at_the_closed_form_resistance() {
    let drive = boat_lift().with_values([("battery.polarisation_capacitance", 1e9)]).unwrap();
    for direction in Direction::BOTH {
        let threshold = threshold(&drive, direction);
        let factors = [0.5, 0.9, 0.999, 1.001, 1.1, 2.0];
        let axis = Axis::new("ground_stud_joint.resistance", factors.map(|factor| factor * threshold));
        let options = SweepOptions { direction, ..held(1.0) };
        let names = measures(&["stalled", "peak_current", "time_to_speed", "lowest_stud_voltage"]);
        let table = sweep(&drive, &[axis], &names, &options, &mut |_| Flow::Continue).unwrap();

        assert_eq!(table.failures, [const { None }; 6]);
        assert_eq!(table.values("stalled").unwrap(), [0.0, 0.0, 0.0, 1.0, 1.0, 1.0], "{direction}");
        let peaks = table.values("peak_current").unwrap();
        assert!(peaks.windows(2).all(|pair| pair[1] < pair[0]), "a worse joint, a smaller surge: {peaks:?}");
        let to_speed = table.values("time_to_speed").unwrap();
        assert!(to_speed[0].is_finite() && to_speed[3..].iter().all(|time| time.is_nan()), "{to_speed:?}");
    }
}
