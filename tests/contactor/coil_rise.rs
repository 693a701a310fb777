//! The current of a coil that is switched on, and when it pulls in.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Coil, RestPosition, ReversingContactor, VoltageSource};

use super::drive::{TIGHT, assert_balance, contactor, control_and_power, events_of, plain_coil, pulses};

fn on_12_volts(coil: Coil) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("coil", coil, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_rise_follows_the_exponential_with_and_without_core_loss() {
    for core_loss in [0.0, 1e-3, 1e-2] {
        let coil = Coil { core_loss_conductance: format!("{core_loss} S").parse().unwrap(), ..plain_coil() };
        let run = on_12_volts(coil).transient(0.03, &TransientOptions::rtol(TIGHT)).unwrap();
        let times = [1e-3, 5e-3, 0.01, 0.03];
        let sampled = run.sample(&times).unwrap();
        // L di/dt (1 + R G) = V - R i; at the terminal i + G L di/dt
        let tau = 0.12 / 24.0 + 0.12 * core_loss;
        let (flux, terminal) = (sampled.state("coil", "current").unwrap(), sampled.current("coil").unwrap());
        for (k, t) in times.iter().enumerate() {
            let left = f64::exp(-t / tau);
            let exact = 0.5 * (1.0 - left);
            assert!((flux[k] / exact - 1.0).abs() < 1e-6, "G = {core_loss}, {t}: {} against {exact}", flux[k]);
            let exact = exact + core_loss * 0.12 * 0.5 / tau * left;
            assert!((terminal[k] / exact - 1.0).abs() < 1e-6, "G = {core_loss}, {t}: {} against {exact}", terminal[k]);
        }
        assert_balance(&run, TIGHT);
    }
}

#[test]
fn exact_steady_current_is_voltage_over_hot_resistance() {
    // IEC 60028: 0.00393 1/K
    let coil = Coil { temperature_c: "100 degC".parse().unwrap(), ..Coil::new("12 V", "24 ohm").unwrap() };
    let op = on_12_volts(coil).operating_point().unwrap();
    let exact = 12.0 / (24.0 * (1.0 + 0.00393 * 80.0));
    assert!((op.current("coil").unwrap() / exact - 1.0).abs() < 1e-10);
}

#[test]
fn exact_pull_in_time_follows_the_logarithm() {
    for (temperature, core_loss) in [(20.0, 0.0), (60.0, 0.0), (20.0, 1e-3)] {
        let base = contactor(RestPosition::Braked);
        let coil = Coil {
            temperature_c: format!("{temperature} degC").parse().unwrap(),
            core_loss_conductance: format!("{core_loss} S").parse().unwrap(),
            ..base.coil.clone()
        };
        let resistance = coil.resistance_at(temperature);
        let contactor = ReversingContactor { coil, ..base };
        let pull_in = contactor.pull_in_current();
        let source = VoltageSource::constant("12.6 V").unwrap();
        let run =
            control_and_power(contactor, source, pulses(&[])).transient(0.05, &TransientOptions::rtol(TIGHT)).unwrap();
        let tau = 0.12 / resistance + 0.12 * core_loss;
        let exact = -tau * f64::ln(1.0 - pull_in * resistance / 12.6);
        let events = events_of(&run, "contactor");
        assert_eq!(events[0].1, "coil A pulls in");
        let error = events[0].0 / exact - 1.0;
        assert!(error.abs() < 1e-6, "{temperature} degC: {error:e}");
    }
}

#[test]
fn exact_either_polarity_pulls_in() {
    let times: Vec<f64> = [1.0, -1.0]
        .iter()
        .map(|sign| {
            let source = VoltageSource::constant(sign * 12.6).unwrap();
            let circuit = control_and_power(contactor(RestPosition::Braked), source, pulses(&[]));
            let run = circuit.transient(0.02, &TransientOptions::rtol(TIGHT)).unwrap();
            events_of(&run, "contactor")[0].0
        })
        .collect();
    assert!((times[0] / times[1] - 1.0).abs() < 1e-9, "{times:?}");
}

#[test]
fn prop_current_dips_when_the_armature_closes() {
    // The sealed inductance is higher, so that the current falls while the flux goes on rising.
    let source = VoltageSource::constant("12.6 V").unwrap();
    let circuit = control_and_power(contactor(RestPosition::Braked), source, pulses(&[]));
    let run = circuit.transient(0.1, &TransientOptions::rtol(1e-6)).unwrap();
    let current = run.state("contactor", "coil_a_current").unwrap();
    let steady = 12.6 / 24.0;
    let falls = current.windows(2).filter(|pair| pair[1] < pair[0] - 1e-6).count();
    assert!(falls > 0, "no dip");
    assert!((current[current.len() - 1] / steady - 1.0).abs() < 1e-3);
}
