//! Ratings of a battery: cold cranking and Peukert's law.

use crate::support::assert_close;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Battery, CurrentSource, Peukert};
use stallpoint::tables::{Chemistry, CrankingTest};

fn drawn(battery: Battery, amperes: f64) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("battery", battery, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("load", CurrentSource::constant(amperes).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

/// The tests' definitions (tests/reference/battery.toml): a battery of the rating has just the least voltage at the test's end.
#[test]
fn val_a_cranking_test_ends_at_its_least_voltage() {
    let ends = [(30.0, 7.2), (10.0, 7.5), (30.0, 9.0), (60.0, 8.4)];
    for (test, (time, least)) in CrankingTest::ALL.into_iter().zip(ends) {
        let rated = Battery::by_cold_cranking_rating(Chemistry::FloodedLeadAcid, "70 Ah", "400 A").unwrap();
        let plain = Battery { cranking_test: test, temperature_c: "-18 degC".parse().unwrap(), ..rated };
        let branched = Battery {
            polarisation_resistance: Some("1.5 mohm".parse().unwrap()),
            polarisation_capacitance: Some("5000 F".parse().unwrap()),
            resistance_coefficient: -0.008,
            open_circuit_coefficient: 1.2e-3,
            peukert: Some(Peukert::RatedHours { exponent: 1.1, hours: "20 h".parse().unwrap() }),
            ..plain.clone()
        };
        for battery in [plain, branched] {
            let run = drawn(battery, 400.0).transient(time, &TransientOptions::rtol(1e-8)).unwrap();
            assert_close(*run.voltage("p").unwrap().last().unwrap(), least, 1e-6, test.name());
        }
    }
}

/// 100 Ah, k = 1.2, 5 A: 14.4956 h by the un-normalised form, 20 h by the normalised one (tests/reference/battery.toml).
#[test]
fn val_both_peukert_forms_in_simulation() {
    for (law, hours) in [
        (Peukert::OneAmpere { exponent: 1.2 }, 14.4956),
        (Peukert::RatedHours { exponent: 1.2, hours: "20 h".parse().unwrap() }, 20.0),
    ] {
        let battery = Battery { peukert: Some(law), ..Battery::flooded("100 Ah", "5 mohm").unwrap() };
        let run = drawn(battery, 5.0).transient(hours * 3600.0, &TransientOptions::rtol(1e-6)).unwrap();
        let left = *run.state("battery", "state_of_charge").unwrap().last().unwrap();
        // The hours are printed to 0.0001 h.
        assert!(left.abs() < 1e-5, "{law:?}: {left}");
    }
}
