//! R-L, R-C, R-L-C and locked rotor: published and exact values.

use super::build::{motor, number, numbers, on_source, reference, resistor, with_source};
use stallpoint::circuit::{Signal, TransientOptions};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::{Capacitor, Inductor, VoltageSource};
use stallpoint::quantity::Voltage;

const TIGHT: f64 = 1e-8;

#[test]
fn val_rl_step() {
    let data = reference("solver_problems.toml", "rl_step");
    let mut circuit = with_source(VoltageSource::constant(number(&data, "V")).unwrap());
    resistor(&mut circuit, "resistor", number(&data, "R"), "p", "m");
    circuit.add("coil", Inductor::new(number(&data, "L")).unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(TIGHT)).unwrap();
    let found = run.sample(&numbers(&data, "t_s")).unwrap().current("coil").unwrap();
    for (found, exact) in found.iter().zip(numbers(&data, "i_A")) {
        assert!((found / exact - 1.0).abs() < 1e-6, "{found} against {exact}");
    }
    let residual = run.energy.residual() / run.energy.delivered();
    assert!(residual.abs() < 1e-6, "{residual}");
}

#[test]
fn val_rc_step() {
    let data = reference("solver_problems.toml", "rc_step");
    let mut circuit = with_source(VoltageSource::constant(number(&data, "V")).unwrap());
    resistor(&mut circuit, "resistor", number(&data, "R"), "p", "m");
    circuit.add("capacitor", Capacitor::new(number(&data, "C")).unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(TIGHT)).unwrap();
    let found = run.sample(&numbers(&data, "t_s")).unwrap().voltage("m").unwrap();
    for (found, exact) in found.iter().zip(numbers(&data, "v_V")) {
        assert!((found / exact - 1.0).abs() < 1e-6, "{found} against {exact}");
    }
}

#[test]
fn val_rlc_peak() {
    let data = reference("solver_problems.toml", "rlc_step");
    let mut circuit = with_source(VoltageSource::constant(number(&data, "V")).unwrap());
    resistor(&mut circuit, "resistor", number(&data, "R"), "p", "m");
    circuit.add("coil", Inductor::new(number(&data, "L")).unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    circuit.add("capacitor", Capacitor::new(number(&data, "C")).unwrap(), [("a", "n"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.02, &TransientOptions::rtol(TIGHT)).unwrap();
    let found = run.extremes(&Signal::Voltage("n".into())).unwrap();
    let (peak, at) = (number(&data, "peak_V"), number(&data, "t_peak_s"));
    println!("peak {:e}, at {:e}", found.max / peak - 1.0, found.max_at / at - 1.0);
    assert!((found.max / peak - 1.0).abs() < 1e-6, "{} against {peak}", found.max);
    // Printed to six digits; a peak is flat, so its time is known to about the root of the error.
    assert!((found.max_at / at - 1.0).abs() < 1e-5, "{} against {at}", found.max_at);
}

#[test]
fn exact_rc_with_an_initial_voltage() {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "resistor", 100.0, "p", "m");
    let mut capacitor = Capacitor::new("100 uF").unwrap();
    capacitor.initial_voltage = Voltage::from_si(-5.0);
    circuit.add("capacitor", capacitor, [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(TIGHT)).unwrap();
    // The first row is of a moment later: the restart's steps take a nanosecond at most, in which it rises at 1,700 V/s.
    assert!((run.state("capacitor", "voltage").unwrap()[0] + 5.0).abs() < 2e-6);
    let times = [0.0, 1e-4, 0.001, 0.01, 0.05];
    for (t, v) in times.iter().zip(run.sample(&times).unwrap().voltage("m").unwrap()) {
        let exact = 12.0 - 17.0 * f64::exp(-t / 0.01);
        assert!((v - exact).abs() < 17e-6, "{t}: {v} against {exact}");
    }
}

#[test]
fn exact_locked_rotor() {
    // An invented motor: 25 mohm, 120 uH; the load holds far more than it can turn.
    let mut circuit = on_source(12.6, motor(0.025, 120e-6, 0.045, 0.004));
    circuit.attach("motor", ResistingTorque::new(100.0, 100.0).unwrap()).unwrap();
    let run = circuit.transient(0.05, &TransientOptions::rtol(TIGHT)).unwrap();
    let times = [1e-4, 1e-3, 5e-3, 0.02, 0.05];
    for (t, i) in times.iter().zip(run.sample(&times).unwrap().current("motor").unwrap()) {
        let exact = 12.6 / 0.025 * -f64::exp_m1(-t * 0.025 / 120e-6);
        assert!((i / exact - 1.0).abs() < 1e-6, "{t}: {i} against {exact}");
    }
    assert!(run.state("motor", "speed").unwrap().iter().all(|&speed| speed == 0.0));
    assert!(run.events.is_empty());
}
