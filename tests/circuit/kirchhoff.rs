//! Kirchhoff's laws: the sum of `v·i` over all parts against the sum of its magnitudes.

use super::build::{motor, on_source, resistor, with_source};
use stallpoint::circuit::{Circuit, Run, TransientOptions};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::{Capacitor, Diode, Inductor, VoltageSource};

/// The start of an invented motor with a brush drop.
fn start() -> Circuit {
    let mut armature = motor(0.025, 120e-6, 0.045, 0.004);
    armature.brush_drop = "0.8 V".parse().unwrap();
    let mut circuit = on_source(12.6, armature);
    circuit.attach("motor", ResistingTorque::new(3.0, 3.6).unwrap()).unwrap();
    circuit
}

/// Rectified alternating voltage on a capacitor and a lamp's resistance, the source switched on by a table's corner.
fn supply() -> Circuit {
    let mut circuit =
        with_source(VoltageSource::table([0.0, 0.01, 0.02, 0.03, 0.04], [0.0, 15.0, -15.0, 15.0, 0.0]).unwrap());
    resistor(&mut circuit, "wire", 0.2, "p", "a");
    circuit.add("coil", Inductor::new("50 uH").unwrap(), [("a", "a"), ("b", "b")]).unwrap();
    resistor(&mut circuit, "core", 100.0, "a", "b");
    circuit.add("diode", Diode::default(), [("anode", "b"), ("cathode", "c")]).unwrap();
    circuit.add("filter", Capacitor::new("1 mF").unwrap(), [("a", "c"), ("b", "ground")]).unwrap();
    resistor(&mut circuit, "lamp", 7.0, "c", "ground");
    circuit
}

/// Largest unbalance of rows after a (re-)initialisation and of accepted steps, relative. A circuit at rest carries but
/// the rounding of its voltages: 1e-15 of the run's largest power is nothing.
fn unbalance(run: &Run) -> (f64, f64) {
    let times = run.time();
    let balances: Vec<(f64, f64)> = (0..run.len()).map(|row| run.power_balance(row)).collect();
    let most = balances.iter().map(|balance| balance.1).fold(0.0, f64::max);
    let (mut jumps, mut steps) = (0.0_f64, 0.0_f64);
    for (row, (sum, magnitude)) in balances.into_iter().enumerate() {
        if magnitude == 0.0 {
            assert_eq!(sum, 0.0);
            continue;
        }
        let relative = (sum.abs() - 1e-15 * most).max(0.0) / magnitude;
        if row == 0 || times[row] == times[row - 1] {
            jumps = jumps.max(relative);
        } else {
            steps = steps.max(relative);
        }
    }
    (jumps, steps)
}

#[test]
fn exact_power_balances_at_operating_points() {
    for circuit in [start(), supply()] {
        let (sum, magnitude) = circuit.operating_point().unwrap().power_balance(0);
        assert!(sum.abs() <= 1e-9 * magnitude, "{sum:e} of {magnitude:e}");
    }
}

#[test]
fn exact_power_balances_along_runs() {
    for (circuit, until) in [(start(), 0.5), (supply(), 0.05)] {
        for rtol in [1e-3, 1e-4, 1e-6, 1e-8] {
            let run = circuit.transient(until, &TransientOptions::rtol(rtol)).unwrap();
            let (jumps, steps) = unbalance(&run);
            println!("{rtol:e}: after jumps {jumps:e}, at steps {steps:e}, {:?}", run.counters);
            assert!(jumps <= 1e-9, "{rtol:e}: {jumps:e} after a jump");
            assert!(steps <= rtol, "{rtol:e}: {steps:e} at a step");
        }
    }
}
