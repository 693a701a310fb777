//! R-L, R-C and locked rotor: published and exact values.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Capacitor, Inductor, Resistor, VoltageSource};

fn source_and(resistance: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("resistor", Resistor::new(resistance).unwrap(), [("a", "p"), ("b", "m")]).unwrap();
    circuit
}

#[test]
fn exact_rl_step_follows_the_exponential() {
    let mut circuit = source_and("0.1 ohm");
    circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(1e-8)).unwrap();
    let times = [0.001, 0.005, 0.01, 0.05];
    let sampled = run.sample(&times).unwrap();
    for (t, i) in times.iter().zip(sampled.current("coil").unwrap()) {
        let exact = 120.0 * (1.0 - f64::exp(-t * 0.1 / 1e-3));
        assert!((i / exact - 1.0).abs() < 1e-6, "{t}: {i} against {exact}");
    }
    println!("{:?}", run.counters);
    let residual = run.energy.residual() / run.energy.delivered();
    assert!(residual.abs() < 1e-6, "{residual}");
}

#[test]
fn exact_rc_step_follows_the_exponential() {
    let mut circuit = source_and("100 ohm");
    circuit.add("capacitor", Capacitor::new("100 uF").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(1e-8)).unwrap();
    let times = [0.001, 0.01, 0.05];
    let sampled = run.sample(&times).unwrap();
    for (t, v) in times.iter().zip(sampled.voltage("m").unwrap()) {
        let exact = 12.0 * (1.0 - f64::exp(-t / 0.01));
        assert!((v / exact - 1.0).abs() < 1e-6, "{t}: {v} against {exact}");
    }
}
