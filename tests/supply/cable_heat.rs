//! A cable whose conductor heats, against closed forms and the adiabatic rule.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Memory, Run, TransientOptions};
use stallpoint::parts::{Cable, CurrentSource};
use stallpoint::tables::adiabatic::k_from_temperatures;
use stallpoint::tables::conductors::Conductor;

fn cable(ampacity: &str, start: &str) -> Cable {
    let text = format!(
        "cross_section = '2 AWG'\nlength = '7 m'\nampacity = '{ampacity}'\nheats = true\ntemperature_c = '{start}'"
    );
    toml::from_str(&text).unwrap()
}

/// `amperes` through the cable for `seconds`.
fn carried(cable: &Cable, amperes: f64, seconds: f64) -> Run {
    let mut circuit = Circuit::new();
    let source = CurrentSource::constant(amperes).unwrap();
    circuit.add("source", source, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("cable", cable.clone(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit.transient(seconds, &TransientOptions::rtol(1e-8)).unwrap()
}

fn temperature(run: &Run, t: f64) -> f64 {
    run.sample(&[t]).unwrap().state("cable", "conductor_temperature").unwrap()[0]
}

#[test]
fn exact_constant_current_is_one_exponential() {
    let cable = cable("150 A", "30 degC");
    let heat = cable.conductor_heat().unwrap();
    let i = 200.0_f64;
    // The source's step to i leaves as much heat in the eddy losses, within 1 µs, as it stores in the inductance.
    let t0 = 30.0 + 0.5 * cable.inductance() * i * i / heat.capacity;
    let run = carried(&cable, i, 900.0);
    let slope = i * i * heat.resistance_20c * heat.coefficient;
    let net = heat.conductance - slope;
    let end = (i * i * heat.resistance_20c * (1.0 - 20.0 * heat.coefficient) + heat.conductance * 30.0) / net;
    for t in [1.0, 30.0, 120.0, 300.0, 900.0] {
        let exact = end + (t0 - end) * (-t * net / heat.capacity).exp();
        assert_close(temperature(&run, t), exact, 1e-6, &format!("at {t} s"));
    }
    assert_energy_adds_up(&run, 1e-8);
    // The limit is passed when the exponential says so.
    let when = heat.capacity / net * ((t0 - end) / (70.0 - end)).ln();
    let event = run.events.iter().find(|event| event.what == "insulation limit reached").unwrap();
    assert_close(event.time, when, 1e-6, "limit");
}

#[test]
fn exact_ampacity_gives_the_rated_temperature() {
    let run = carried(&cable("150 A", "30 degC"), 150.0, 20_000.0);
    assert_close(temperature(&run, 20_000.0), 70.0, 1e-6, "settled");
    let below = carried(&cable("150 A", "30 degC"), 145.0, 20_000.0);
    assert!(below.events.iter().all(|event| event.what != "insulation limit reached"));
}

#[test]
fn val_short_times_agree_with_the_adiabatic_rule() {
    // k by IEC 60949 from 70 to 160 degC; 0.2 s as in its worked example. 2 AWG has resistivity over area, as k assumes.
    let cable = cable("150 A", "70 degC");
    let k = k_from_temperatures(Conductor::Copper, 70.0, 160.0).unwrap();
    let amperes = k * cable.area_m2() * 1e6 / 0.2_f64.sqrt();
    let reached = temperature(&carried(&cable, amperes, 0.2), 0.2);
    // The metal's 1/α - 20 is 234.45 and k's β 234.5 degC, and a little heat is lost.
    assert!((reached - 160.0).abs() < 0.2, "{reached}");
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let memory = Memory::default();
    assert_derivatives(&cable("150 A", "30 degC"), &[12.0, 11.5, 60.0, 55.0, 64.0], &memory);
}

#[test]
fn exact_heating_without_ampacity_is_refused() {
    let cable = Cable { heats: true, ..Cable::new("25 mm2", "3 m").unwrap() };
    let error = Circuit::new().add("lead", cable, [("a", "p"), ("b", "ground")]).unwrap_err().to_string();
    assert!(error.contains("`heats` needs `ampacity`"), "{error}");
}
