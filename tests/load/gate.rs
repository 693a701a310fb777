//! The loads of a sliding gate in a feed mill at 24 V, here behind a permanent-magnet motor. All data invented.

use crate::support::{assert_close, assert_energy_adds_up, events};
use stallpoint::TransientOptions;
use stallpoint::circuit::Circuit;
use stallpoint::parts::load::Load;
use stallpoint::parts::{PermanentMagnetMotor, VoltageSource};

const GATE: &str = r#"
[[load]] # the gate under its grain, on a pinion
kind = "conveyor"
mass = "600 kg"
drum_radius = "50 mm"
gear_ratio = 25
efficiency = 0.8
breakaway_efficiency = 0.7
friction_coefficient = 0.25
breakaway_coefficient = 0.35
drum_inertia = "0.15 kg m2"
inertia = "0.0004 kg m2"

[[load]] # 1.2 m of travel
kind = "end_stop"
forward = "600 rad"
backward = "-1 rad"
stiffness = "4 N m/rad"
damping = "0.02 N m s/rad"
"#;

#[derive(serde::Deserialize)]
struct Gate {
    load: Vec<Load>,
}

#[test]
fn exact_runs_to_its_stop_and_stalls_there() {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("24 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let motor = PermanentMagnetMotor::new("60 mohm", "150 uH", "0.13 N m/A", "0.003 kg m2").unwrap();
    circuit.add("motor", motor, [("plus", "p"), ("minus", "ground")]).unwrap();
    for load in toml::from_str::<Gate>(GATE).unwrap().load {
        circuit.attach_boxed("motor", load.part().boxed()).unwrap();
    }
    let force = 0.25 * 600.0 * 9.80665; // N; standard gravity
    let i = force * 0.05 / 25.0 / 0.8 / 0.13;
    let op = circuit.operating_point().unwrap();
    assert_close(op.current("motor").unwrap(), i, 1e-8, "running");
    let omega = (24.0 - 0.06 * i) / 0.13;

    let run = circuit.transient(6.0, &TransientOptions::rtol(1e-7)).unwrap();
    let happened = events(&run, "motor.end_stop");
    // At full speed all the way, less what starting costs: some tenths of a second.
    let least = 600.0 / omega;
    assert!(happened[0].0 > least && happened[0].0 < least + 0.3, "{} against {least}", happened[0].0);
    let end = run.sample(&[6.0]).unwrap();
    assert_eq!(end.state("motor", "speed").unwrap()[0], 0.0);
    assert_close(end.current("motor").unwrap()[0], 24.0 / 0.06, 1e-5, "stalled");
    assert_energy_adds_up(&run);
}
