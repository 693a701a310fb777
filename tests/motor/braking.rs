//! A turning motor on a resistor.

use super::build::{close, resistor, running, with_source};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{PermanentMagnetMotor, Resistor, VoltageSource};

#[test]
fn exact_dynamic_braking_of_a_permanent_magnet_motor() {
    // ω = ω0 exp(-t K² / (J R)) with R of armature and brake, L → 0; all motion becomes heat, shared as the resistances.
    let (r, brake, k, j) = (0.05, 0.15, 0.045, 0.004);
    let circuit = |volts: f64| -> Circuit {
        let mut circuit = with_source(volts);
        resistor(&mut circuit, "brake", brake, "p", "stud");
        let motor = PermanentMagnetMotor::new(r, 1e-9, k, j).unwrap();
        circuit.add("motor", motor, [("plus", "stud"), ("minus", "ground")]).unwrap();
        circuit
    };
    let before = running(&circuit(12.0)).as_start();
    let tau = j * (r + brake) / (k * k);
    let options = TransientOptions { start: Some(before), ..TransientOptions::rtol(1e-8) };
    let run = circuit(0.0).transient(10.0 * tau, &options).unwrap();
    let times: Vec<f64> = (1..10).map(|k| 0.5 * tau * f64::from(k)).collect();
    let start = 12.0 / k;
    for (t, omega) in times.iter().zip(run.sample(&times).unwrap().state("motor", "speed").unwrap()) {
        assert!((omega / (start * (-t / tau).exp()) - 1.0).abs() < 1e-6, "{t}: {omega}");
    }
    let kinetic = 0.5 * j * start * start * (1.0 - (-20.0_f64).exp());
    close(run.energy.part("motor").unwrap().dissipated, kinetic * r / (r + brake), 1e-6, "heat in the motor");
    close(run.energy.part("brake").unwrap().dissipated, kinetic * brake / (r + brake), 1e-6, "heat in the brake");
}

#[test]
fn exact_two_motors_back_to_back_share_their_speed() {
    // One drives the other as a generator: what the second gives back is what it takes from the shaft.
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant(12.0).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let motor = || PermanentMagnetMotor::new(0.05, 1e-4, 0.045, 0.004).unwrap();
    circuit.add("motor", motor(), [("plus", "p"), ("minus", "ground"), ("shaft", "common")]).unwrap();
    circuit.add("generator", motor(), [("plus", "g"), ("minus", "ground"), ("shaft", "common")]).unwrap();
    circuit.add("load", Resistor::new(0.2).unwrap(), [("a", "g"), ("b", "ground")]).unwrap();
    let op = running(&circuit);
    // i = K ω / 0.25 in both, 12 = 0.05 i + K ω.
    let i = 12.0 / 0.3;
    close(op.current("motor").unwrap(), i, 1e-9, "motor current");
    close(op.current("generator").unwrap(), -i, 1e-9, "generator current");
    close(op.state("motor", "speed").unwrap(), 0.25 * i / 0.045, 1e-9, "speed");
}
