//! Battery against its closed forms.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Memory, OperatingOptions, TransientOptions};
use stallpoint::parts::{Battery, CurrentSource, Resistor};

fn bank() -> Battery {
    Battery {
        state_of_charge: "70 %".parse().unwrap(),
        polarisation_resistance: Some("4 mohm".parse().unwrap()),
        polarisation_capacitance: Some("5000 F".parse().unwrap()),
        blocks_in_series: 2,
        strings_in_parallel: 3,
        ..Battery::agm("50 Ah", "6 mohm").unwrap()
    }
}

fn on(battery: Battery) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("battery", battery, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_sag_under_a_constant_current() {
    let mut circuit = on(bank());
    circuit.add("load", CurrentSource::constant("120 A").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let run = circuit.transient(60.0, &TransientOptions::rtol(1e-8)).unwrap();
    let times = [0.0, 1.0, 7.0, 20.0, 60.0];
    let sampled = run.sample(&times).unwrap();
    let (v, p) = (sampled.voltage("p").unwrap(), sampled.state("battery", "polarisation_voltage").unwrap());
    let soc = sampled.state("battery", "state_of_charge").unwrap();
    let terminal = sampled.state("battery", "terminal_voltage").unwrap();
    for (k, t) in times.into_iter().enumerate() {
        let charge = 0.7 - 120.0 * t / (3.0 * 50.0 * 3600.0);
        // Both blocks lie between the table's points 12.3 V at 0.5 and 12.6 V at 0.75.
        let open = 2.0 * (12.3 + (charge - 0.5) * 0.3 / 0.25);
        let sag = -120.0 * 0.004 * 2.0 / 3.0 * (1.0 - f64::exp(-t / 20.0));
        assert_close(soc[k], charge, 1e-12, "charge");
        // The solver's consistent start is two implicit steps of 1e-11 s: the voltage is that much ahead.
        let ahead = 2e-11 * 0.32 / 20.0;
        assert!((p[k] - sag).abs() <= 1e-6 * sag.abs() + ahead, "polarisation at {t}: {} against {sag}", p[k]);
        assert_close(v[k], open + sag - 120.0 * 0.004, 1e-8, "terminal voltage");
        assert_eq!(v[k], terminal[k]);
    }
    assert_energy_adds_up(&run, 1e-8);
    assert_close(run.energy.part("battery").unwrap().delivered, delivered_over(60.0), 1e-9, "delivered");
}

/// Integral of the open-circuit voltage times 120 A.
fn delivered_over(t: f64) -> f64 {
    let rate = 120.0 / (3.0 * 50.0 * 3600.0);
    120.0 * 2.0 * ((12.3 + 0.2 * 1.2) * t - 1.2 * rate * t * t / 2.0)
}

#[test]
fn exact_discharge_through_a_resistor_is_exponential() {
    // Without a branch and within one piece of the table the charge obeys Q R dsoc/dt = -(E + k soc).
    let small = Battery { state_of_charge: "70 %".parse().unwrap(), ..Battery::flooded("360 C", "10 mohm").unwrap() };
    let mut circuit = on(small);
    circuit.add("load", Resistor::new("0.99 ohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(4.0, &TransientOptions::rtol(1e-8)).unwrap();
    let k = (12.45 - 12.24) / 0.25;
    let start = 12.24 + k * 0.2;
    for (t, i) in [1.0, 4.0].into_iter().zip(run.sample(&[1.0, 4.0]).unwrap().current("load").unwrap()) {
        assert_close(i, start * f64::exp(-k * t / 360.0), 1e-8, "current");
    }
    assert_energy_adds_up(&run, 1e-8);
}

#[test]
fn exact_operating_point_holds_charge_and_settles_polarisation_only_when_asked() {
    let mut circuit = on(bank());
    circuit.add("load", Resistor::new("0.2 ohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    let open = 2.0 * (12.3 + 0.2 * 1.2);
    for (settled, inner) in [(false, 0.004), (true, 0.004 + 0.008 / 3.0)] {
        let op = circuit.operating_point_with(&OperatingOptions { settled, ..Default::default() }).unwrap();
        assert_close(op.current("load").unwrap(), open / (0.2 + inner), 1e-12, "current");
        assert_close(op.current("battery").unwrap(), -open / (0.2 + inner), 1e-12, "current into plus");
        assert_eq!(op.state("battery", "state_of_charge").unwrap(), 0.7);
        assert_close(op.state("battery", "open_circuit_voltage").unwrap(), open, 1e-12, "open-circuit voltage");
    }
}

#[test]
fn exact_series_resistance_rises_in_the_cold() {
    let cold = Battery {
        temperature_c: "-15 degC".parse().unwrap(),
        resistance_coefficient: -0.01,
        ..Battery::agm("100 Ah", "5 mohm").unwrap()
    };
    assert_close(cold.resistance(), 0.005 * 1.4, 1e-15, "resistance");
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let memory = Memory::default();
    assert_derivatives(&bank(), &[24.1, 0.3, -80.0, -0.2, 0.63], &memory);
    assert_derivatives(
        &Battery::lithium_iron_phosphate("100 Ah", "3 mohm").unwrap(),
        &[13.0, 0.0, 5.0, 0.0, 0.33],
        &memory,
    );
}

#[test]
fn exact_reads_back_from_a_file() {
    let text = toml::to_string(&bank()).unwrap();
    assert_eq!(toml::from_str::<Battery>(&text).unwrap(), bank(), "{text}");
    let short: Battery =
        toml::from_str("chemistry = 'agm_lead_acid'\ncapacity = '100 Ah'\nseries_resistance = '5 mohm'").unwrap();
    assert_eq!(short, Battery::agm("100 Ah", "5 mohm").unwrap());
}

#[test]
fn exact_refusals_name_the_argument() {
    let refused = |battery: Battery| {
        let error = Circuit::new().add("bank", battery, [("plus", "p"), ("minus", "ground")]).unwrap_err();
        error.to_string()
    };
    let agm = || Battery::agm("100 Ah", "5 mohm").unwrap();
    assert_eq!(
        refused(Battery { state_of_charge: "1.5".parse().unwrap(), ..agm() }),
        "part \"bank\" (battery): `state_of_charge` is 1.5, but must be between 0 and 1"
    );
    assert_eq!(
        refused(Battery { polarisation_resistance: Some("1 mohm".parse().unwrap()), ..agm() }),
        "part \"bank\" (battery): `polarisation_resistance` is given without `polarisation_capacitance`; give both for an R-C branch, or neither for none"
    );
    assert_eq!(
        refused(Battery { blocks_in_series: 0, ..agm() }),
        "part \"bank\" (battery): `blocks_in_series` is 0, but must be 1 or more"
    );
    assert_eq!(
        refused(Battery { resistance_coefficient: 0.1, temperature_c: "-15 degC".parse().unwrap(), ..agm() }),
        "part \"bank\" (battery): `resistance_coefficient` is 0.1, but must be such that the series resistance stays above zero at -15 degC"
    );
    assert_eq!(
        Battery::agm("100 A", "5 mohm").unwrap_err().to_string(),
        "`capacity`: \"100 A\" is a current; a charge is expected, for example \"100 Ah\""
    );
    assert_eq!(
        Battery::agm("100 Ah", 0.0).unwrap_err().to_string(),
        "`series_resistance` is 0 ohm, but must be above 0 ohm"
    );
}
