//! A hoist raises, overhauls, locks.

use crate::support::{G, K, R, assert_close, assert_energy_adds_up, motor_on, no_motor};
use stallpoint::TransientOptions;
use stallpoint::parts::load::Hoist;

const TORQUE: f64 = 150.0 * G * 0.05 / 40.0; // N·m at the motor, lossless

fn hoist(efficiency: f64) -> Hoist {
    Hoist::new("150 kg", "50 mm", 40.0, efficiency).unwrap()
}

#[test]
fn exact_raising_takes_the_torque_over_the_efficiency() {
    let mut circuit = motor_on(12.0);
    circuit.attach("motor", hoist(0.8)).unwrap();
    let op = circuit.operating_point().unwrap();
    let i = TORQUE / 0.8 / K;
    assert_close(op.current("motor").unwrap(), i, 1e-8, "current");
    let omega = (12.0 - R * i) / K;
    assert_close(op.state("motor", "speed").unwrap(), omega, 1e-8, "speed");
    assert_close(op.state("motor.hoist", "load_speed").unwrap(), omega * 0.05 / 40.0, 1e-8, "rope");
}

/// Shorted, the motor brakes: the weight less the gear's loss drives `K ω / R` through it.
#[test]
fn exact_overhauling_lowering_speed() {
    let mut circuit = motor_on(0.0);
    circuit.attach("motor", hoist(0.8)).unwrap();
    let driving = TORQUE * (2.0 - 1.0 / 0.8);
    let omega = -driving * R / (K * K);
    assert_close(circuit.operating_point().unwrap().state("motor", "speed").unwrap(), omega, 1e-8, "settled");

    let run = circuit.transient(1.5, &TransientOptions::rtol(1e-8)).unwrap();
    assert_close(*run.state("motor", "speed").unwrap().last().unwrap(), omega, 1e-6, "at the end");
    assert_energy_adds_up(&run);
    // All that the weight gave is in the winding, the lead, the gear and the shaft's motion.
    let given = run.energy.part("motor.hoist").unwrap().delivered;
    let rope = stallpoint::circuit::Signal::State("motor.hoist".into(), "load_speed".into());
    let fallen = -run.accumulated(&rope, |v| v).unwrap().last().unwrap();
    assert_close(given, 150.0 * G * fallen, 1e-6, "weight times way");
}

#[test]
fn exact_a_given_back_driving_efficiency_counts() {
    let mut circuit = motor_on(0.0);
    circuit.attach("motor", Hoist { back_driving_efficiency: Some("60 %".parse().unwrap()), ..hoist(0.75) }).unwrap();
    let omega = -TORQUE * 0.6 * R / (K * K);
    assert_close(circuit.operating_point().unwrap().state("motor", "speed").unwrap(), omega, 1e-8, "speed");
}

#[test]
fn exact_lossless_fall() {
    let mut circuit = no_motor();
    circuit.add("hoist", Hoist { drum_inertia: "0.3 kg m2".parse().unwrap(), ..hoist(1.0) }, [("shaft", "s")]).unwrap();
    let run = circuit.transient(0.7, &TransientOptions::rtol(1e-8)).unwrap();
    let lift: f64 = 0.05 / 40.0;
    let inertia = 150.0 * lift * lift + 0.3 / 1600.0;
    assert_close(*run.state("s", "speed").unwrap().last().unwrap(), -TORQUE / inertia * 0.7, 1e-8, "speed");
    assert_energy_adds_up(&run);
}

#[test]
fn exact_half_efficiency_or_less_holds_by_itself() {
    for (efficiency, holds) in [(0.499, true), (0.501, false)] {
        let mut circuit = motor_on(0.0);
        circuit.attach("motor", hoist(efficiency)).unwrap();
        assert_eq!(circuit.operating_point().unwrap().stuck, holds, "{efficiency}");
        assert_eq!(hoist(efficiency).overhauls(), !holds);
    }
}

#[test]
fn exact_direction_of_raising_and_falls_of_rope() {
    let turned = Hoist { forward_raises: false, falls: "2".parse().unwrap(), ..hoist(0.8) };
    let mut circuit = motor_on(-12.0);
    circuit.attach("motor", turned).unwrap();
    let op = circuit.operating_point().unwrap();
    assert_close(op.current("motor").unwrap(), -TORQUE / 2.0 / 0.8 / K, 1e-8, "current");
    assert!(op.state("motor.hoist", "load_speed").unwrap() > 0.0);
}
