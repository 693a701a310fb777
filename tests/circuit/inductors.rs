//! Inductors in series: their currents are not independent. A warning, and the right answer all the same.

use super::build::{largest, resistor, with_source};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Capacitor, Inductor, VoltageSource};

fn series() -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    circuit.add("choke", Inductor::new("1 mH").unwrap(), [("a", "p"), ("b", "m")]).unwrap();
    circuit.add("coil", Inductor::new("3 mH").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    resistor(&mut circuit, "load", 0.5, "n", "ground");
    circuit
}

#[test]
fn exact_a_cutset_of_inductors_is_warned_of() {
    assert_eq!(
        series().warnings().unwrap(),
        [
            "only inductors and current sources reach node \"m\": \"choke\", \"coil\"; their currents are not independent: add the damping that every real core or cable has (a resistor beside one of them)"
        ]
    );
}

#[test]
fn exact_a_cutset_of_inductors_is_solved() {
    for (rtol, allowed) in [(1e-4, 2e-3), (1e-8, 2e-6)] {
        let run = series().transient(0.05, &TransientOptions::rtol(rtol)).unwrap();
        let exact = |t: f64| 24.0 * (1.0 - f64::exp(-t / 8e-3));
        for coil in ["choke", "coil"] {
            let found = run.current(coil).unwrap();
            let worst = largest(run.time().iter().zip(&found).map(|(&t, i)| (i - exact(t)) / 24.0));
            println!("{rtol:e} {coil}: {worst:e}");
            assert!(worst < allowed, "{rtol:e} {coil}: {worst:e}");
        }
        let between = run.voltage("m").unwrap();
        // v = 12 V less a quarter of what falls across both.
        let worst =
            largest(run.time().iter().zip(&between).map(|(&t, v)| (v - 12.0 + 3.0 * f64::exp(-t / 8e-3)) / 12.0));
        assert!(worst < 10.0 * allowed, "{rtol:e}: {worst:e}");
    }
}

#[test]
fn exact_a_loop_of_capacitors_is_warned_of_and_solved() {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "series", 100.0, "p", "m");
    circuit.add("one", Capacitor::new("30 uF").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    circuit.add("two", Capacitor::new("70 uF").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    assert_eq!(
        circuit.warnings().unwrap(),
        [
            "\"two\" closes a loop of capacitors and voltage sources: its voltage is not independent; add a small series resistance"
        ]
    );
    let run = circuit.transient(0.05, &TransientOptions::rtol(1e-8)).unwrap();
    let worst = largest(
        run.time().iter().zip(run.voltage("m").unwrap()).map(|(&t, v)| (v - 12.0 * (1.0 - f64::exp(-t / 0.01))) / 12.0),
    );
    assert!(worst < 1e-6, "{worst:e}");
}

#[test]
fn exact_no_warning_without_reason() {
    let mut circuit = series();
    resistor(&mut circuit, "damping", 1e4, "m", "ground");
    assert!(circuit.warnings().unwrap().is_empty());
}
