//! How long a coil holds after it is switched off, by suppression.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Coil, Diode, RestPosition, ReversingContactor, Suppression, VoltageSource};

use super::drive::{TERMINALS, TIGHT, contactor, events_of, plain_coil, residual};
use super::ideal_switch::IdealSwitch;

const OFF: f64 = 0.2;

/// Time from switching off at a steady current of 0.5 A to drop-out.
fn hold_time(suppression: Suppression, core_loss: f64) -> f64 {
    let coil = Coil { suppression, core_loss_conductance: format!("{core_loss} S").parse().unwrap(), ..plain_coil() };
    let contactor = ReversingContactor { coil, ..contactor(RestPosition::Open) };
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("switch", IdealSwitch::opens_at(OFF), [("a", "p"), ("b", "coil_a")]).unwrap();
    let to_ground = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
    circuit.add("contactor", contactor, to_ground).unwrap();
    // It stops at drop-out: without core loss the last of the current goes in 1e-12 s, which is not the matter here.
    let options = TransientOptions {
        start: Some(circuit.operating_point().unwrap().as_start()),
        stop_at_event_of: Some("contactor".into()),
        ..TransientOptions::rtol(TIGHT)
    };
    let run = circuit.transient(0.5, &options).unwrap();
    assert!(residual(&run) < 1e-6, "{}", residual(&run));
    let events = events_of(&run, "contactor");
    let found = events.iter().find(|event| event.1 == "coil A drops out").unwrap();
    found.0 - OFF
}

fn resistor(ohms: f64) -> Suppression {
    Suppression::Resistor { resistance: format!("{ohms} ohm").parse().unwrap() }
}

const START: f64 = 0.5;
const DROP_OUT: f64 = 4.0 / 24.0;
const SEALED: f64 = 0.24;

#[test]
fn exact_release_time_ratio_of_two_resistors() {
    // i = I exp(-t (R + R_s) / L): the times are as 1 / (R + R_s)
    let (slow, fast) = (hold_time(resistor(24.0), 0.0), hold_time(resistor(176.0), 0.0));
    let exact = SEALED / 48.0 * f64::ln(START / DROP_OUT);
    assert!((slow / exact - 1.0).abs() < 1e-6, "{slow} against {exact}");
    let ratio = (24.0 + 176.0) / (24.0 + 24.0);
    assert!((slow / fast / ratio - 1.0).abs() < 1e-6, "{} against {ratio}", slow / fast);
}

#[test]
fn exact_core_loss_adds_to_the_release_time() {
    // e = -(R + R_s)(i + G e): the time constant is L (1/(R + R_s) + G)
    let exact = SEALED * (1.0 / 48.0 + 1e-3) * f64::ln(START / DROP_OUT);
    let found = hold_time(resistor(24.0), 1e-3);
    assert!((found / exact - 1.0).abs() < 1e-6, "{found} against {exact}");
}

/// `∫ L di / (R i + v(i))` from drop-out to the start, by Simpson's rule.
fn integral(v: impl Fn(f64) -> f64) -> f64 {
    let n = 20_000;
    let h = (START - DROP_OUT) / f64::from(n);
    let term = |k: i32| {
        let i = DROP_OUT + h * f64::from(k);
        let weight = if k == 0 || k == n { 1.0 } else { 2.0 + 2.0 * f64::from(k % 2) };
        weight * SEALED / (24.0 * i + v(i))
    };
    (0..=n).map(term).sum::<f64>() * h / 3.0
}

/// The default diode's voltage at a current.
fn diode_voltage(i: f64) -> f64 {
    let diode = Diode::default();
    diode.slope_voltage.si() * f64::ln(1.0 + i / diode.saturation_current.si())
}

#[test]
fn exact_release_time_with_each_kind_of_diode() {
    let diode = hold_time(Suppression::Diode, 0.0);
    let exact = integral(diode_voltage);
    assert!((diode / exact - 1.0).abs() < 1e-6, "diode: {diode} against {exact}");

    let with_resistor = Suppression::DiodeAndResistor { resistance: "47 ohm".parse().unwrap() };
    let found = hold_time(with_resistor, 0.0);
    let exact = integral(|i| diode_voltage(i) + 47.0 * i);
    assert!((found / exact - 1.0).abs() < 1e-6, "diode and resistor: {found} against {exact}");

    let clamp = hold_time(Suppression::Clamp { voltage: "24 V".parse().unwrap() }, 0.0);
    let exact = integral(|i| diode_voltage(i) + 24.0);
    assert!((clamp / exact - 1.0).abs() < 1e-6, "clamp: {clamp} against {exact}");
    assert!(diode > found && found > clamp);
}
