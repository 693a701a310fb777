//! Modified reset: open as long as there is voltage across it.

use crate::support::{assert_close, band, breaker_at, words};
use stallpoint::circuit::{Circuit, Run, TransientOptions};
use stallpoint::parts::{Breaker, Reset, Resistor, Switch, VoltageSource, Waveform};

fn breaker() -> Breaker {
    Breaker { reset: Reset::Modified, ..breaker_at(0.5) }
}

/// A supply that is `volts` over time, the breaker and 0.119 ohm.
fn supplied(times: &[f64], volts: &[f64], until: f64, rtol: f64) -> Run {
    let mut circuit = Circuit::new();
    let voltage = Waveform::Table { times: times.to_vec(), values: volts.to_vec() };
    circuit.add("source", VoltageSource { voltage }, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("breaker", breaker(), [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("stalled", Resistor::new("119 mohm").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    circuit.transient(until, &TransientOptions::rtol(rtol)).unwrap()
}

/// 100 A trips after this.
fn trips() -> f64 {
    band().time(0.5, 2.0).unwrap()
}

#[test]
fn exact_it_stays_open_on_its_supply_and_settles_at_the_heaters_heat() {
    let run = supplied(&[0.0], &[12.0], 3600.0, 1e-6);
    assert!(!words(&run, "breaker").contains(&"recloses"), "{:?}", run.events);
    assert_close(run.events[0].time, trips(), 1e-6, "trips");
    // 150 ohm across the contact: 12 V · 150 / 150.119 on the heater, which alone would hold the strip at trip heat with 9 V.
    let across: f64 = 12.0 * 150.0 / 150.119;
    let heat = *run.state("breaker", "trip_fraction").unwrap().last().unwrap();
    assert_close(heat, (across / 9.0).powi(2), 1e-5, "heat");
    assert_close(*run.current("breaker").unwrap().last().unwrap(), across / 150.0, 1e-6, "what the heater passes");
    assert!(run.energy.residual().abs() <= 1e-6 * run.energy.delivered(), "{:?}", run.energy);
}

#[test]
fn exact_it_recloses_after_the_supply_was_taken_away() {
    let off = 400.0;
    let run = supplied(&[0.0, off, off + 1e-6], &[12.0, 12.0, 0.0], 800.0, 1e-8);
    let settled = (12.0 * 150.0 / 150.119 / 9.0_f64).powi(2);
    let at_off = settled + (1.0 - settled) * f64::exp(-(off - trips()) / 60.0);
    let recloses = off + 60.0 * f64::ln(at_off / 0.3);
    let event = run.events.iter().find(|event| event.what == "recloses").unwrap();
    assert_close(event.time, recloses, 1e-5, "recloses");
}

#[test]
fn exact_below_the_holding_voltage_it_does_not_hold() {
    // Holds above 9 V · √0.3 = 4.93 V: lowered to 4.8 V it comes back, at 5.1 V never.
    for (volts, comes_back) in [(4.8, true), (5.1, false)] {
        let run = supplied(&[0.0, 60.0, 60.001], &[12.0, 12.0, volts], 3000.0, 1e-6);
        assert_eq!(words(&run, "breaker").contains(&"recloses"), comes_back, "{volts} V");
    }
}

#[test]
fn exact_it_recloses_when_the_load_is_taken_away() {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("breaker", breaker(), [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("stalled", Resistor::new("119 mohm").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    circuit.add("switch", Switch::worked([(0.0, 200.0)]), [("a", "n"), ("b", "ground")]).unwrap();
    let run = circuit.transient(600.0, &TransientOptions::rtol(1e-6)).unwrap();
    let recloses = run.events.iter().find(|event| event.what == "recloses").unwrap().time;
    assert!(recloses > 200.0, "{recloses}");
    assert_eq!(words(&run, "breaker").iter().filter(|word| **word == "trips").count(), 1);
}
