//! Release time by suppressor: a diode against a diode-free resistor, on the R–L decay to drop-out.

use stallpoint::circuit::{Circuit, Ending, Run, TransientOptions};
use stallpoint::parts::{Coil, Diode, RestPosition, ReversingContactor, Suppression, VoltageSource};

use super::drive::{TERMINALS, TIGHT, contactor, events_of, plain_coil};
use super::ideal_switch::IdealSwitch;

const R: f64 = 24.0;
const START: f64 = 0.5;
const DROP_OUT: f64 = 4.0 / 24.0;

/// A diode of nearly no voltage.
fn ideal() -> Diode {
    Diode { slope_voltage: "1 nV".parse().unwrap(), linear_above: "40 nV".parse().unwrap(), ..Diode::default() }
}

/// Switched off at 12 V.
fn release(suppression: Suppression, diode: Diode, options: TransientOptions) -> Run {
    let coil = Coil { suppression, suppression_diode: diode, ..plain_coil() };
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("switch", IdealSwitch::opens_at(0.1), [("a", "p"), ("b", "coil_a")]).unwrap();
    let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
    circuit.add("contactor", ReversingContactor { coil, ..contactor(RestPosition::Open) }, nodes).unwrap();
    let start = Some(circuit.operating_point().unwrap().as_start());
    circuit.transient(0.2, &TransientOptions { start, ..options }).unwrap()
}

/// Time from switching off at 12 V to drop-out.
fn hold_time(suppression: Suppression, diode: Diode) -> f64 {
    let options = TransientOptions { stop_at_event_of: Some("contactor".into()), ..TransientOptions::rtol(TIGHT) };
    let run = release(suppression, diode, options);
    let events = events_of(&run, "contactor");
    events.iter().find(|event| event.1 == "coil A drops out").unwrap().0 - 0.1
}

#[test]
fn regress_work_of_a_nearly_ideal_diode() {
    // Newton's steps on its exponential shrink by e each, which must not pass for rounding. Measured: 83 steps.
    let run = release(Suppression::Diode, ideal(), TransientOptions::rtol(1e-7));
    assert_eq!(run.ending, Ending::Finished);
    assert!(run.counters.steps <= 87 && run.counters.rejected_by_error <= 4, "{:?}", run.counters);
}

#[test]
fn exact_release_time_ratio_of_diode_to_resistor() {
    // A diode of nearly no voltage is a short: tau = L / R. A resistor of k R: tau = L / (R (1 + k)). Both decay to the same
    // current, so that the ratio is 1 + k without diode drop: 3.4 at k = 2.4.
    let resistor = Suppression::Resistor { resistance: format!("{} ohm", 2.4 * R).parse().unwrap() };
    let fast = hold_time(resistor.clone(), Diode::default());
    let ratio = hold_time(Suppression::Diode, ideal()) / fast;
    assert!((ratio / 3.4 - 1.0).abs() < 1e-6, "{ratio} against 3.4");

    // With the default diode: ∫ L di / (R i + v(i)) by Simpson's rule over R (1 + k) / L / ln(I / I_out): about 3.
    let d = Diode::default();
    let n = 20_000;
    let h = (START - DROP_OUT) / f64::from(n);
    let term = |k: i32| {
        let i = DROP_OUT + h * f64::from(k);
        let v = d.slope_voltage.si() * f64::ln(1.0 + i / d.saturation_current.si());
        let weight = if k == 0 || k == n { 1.0 } else { 2.0 + 2.0 * f64::from(k % 2) };
        weight / (R * i + v)
    };
    let slow: f64 = (0..=n).map(term).sum::<f64>() * h / 3.0; // over L
    let exact = slow / (f64::ln(START / DROP_OUT) / (3.4 * R));
    let found = hold_time(Suppression::Diode, d) / fast;
    println!("diode over resistor: {found:.4}");
    assert!((found / exact - 1.0).abs() < 1e-6, "{found} against {exact}");
    assert!(found > 2.8 && found < 3.4);
}
