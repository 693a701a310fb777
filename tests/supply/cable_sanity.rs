//! The cable that heats, and the one that is merely warm, against published tables that are not its own input.

use crate::support::assert_close;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Cable, CurrentSource};
use stallpoint::quantity::{Current, Temperature};

fn ratings() -> Vec<(String, f64)> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/ampacity_trailing_cable.csv");
    let text = std::fs::read_to_string(path).unwrap();
    let rows =
        text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect::<Vec<_>>());
    let rated: Vec<_> =
        rows.filter(|cells| !cells[1].is_empty()).map(|c| (c[0].into(), c[1].parse().unwrap())).collect();
    assert_eq!(rated.len(), 10);
    rated
}

fn cable(gauge: &str) -> Cable {
    let mut cable = Cable::new(format!("{gauge} AWG").as_str(), "1 m").unwrap();
    cable.temperature_c = Temperature::from_si(30.0);
    cable.heats = true;
    cable
}

/// Where the conductor settles under a current, °C.
fn settles(cable: &Cable, amperes: f64) -> f64 {
    let mut circuit = Circuit::new();
    let source = CurrentSource::constant(amperes).unwrap();
    circuit.add("source", source, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("cable", cable.clone(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(100_000.0, &TransientOptions::rtol(1e-6)).unwrap();
    *run.state("cable", "conductor_temperature").unwrap().last().unwrap()
}

/// The mining regulation's ampacities (30 CFR 75.601-3) against the heat balance. The loss that a cable's own ampacity gives would
/// make this a circle, so each size takes its loss from the largest one's rating: once the same loss for each metre, once
/// a loss in proportion to the conductor's surface. A real loss lies between (the insulated surface grows less than the
/// conductor's, and a thin cable's surface loses more for its size), so at its printed ampacity every other size must settle below
/// the limit with the first and above it with the second. A bracket, and a wide one: from 13 % to 29 % of the current at 8 AWG.
#[test]
fn val_trailing_cable_ratings_lie_between_two_ways_of_losing_heat() {
    let rated = ratings();
    let (largest, amperes) = rated.last().unwrap();
    let mut reference = cable(largest);
    reference.ampacity = Some(Current::from_si(*amperes));
    let limit = reference.conductor_heat().unwrap().limit_c;
    assert_close(settles(&reference, *amperes), limit, 1e-4, "the largest");
    let loss = reference.conductor_heat().unwrap().conductance;
    for (gauge, amperes) in &rated[..rated.len() - 1] {
        // A cable takes its loss from the ampacity it is given: the one that makes it lose `watts` for each kelvin.
        let losing = |watts: f64| {
            let mut own = cable(gauge);
            own.ampacity = Some(Current::from_si(1.0));
            let heat = own.conductor_heat().unwrap();
            own.ampacity = Some(Current::from_si((watts * (limit - 30.0) / heat.resistance(limit).0).sqrt()));
            assert_close(own.conductor_heat().unwrap().conductance, watts, 1e-12, gauge);
            own
        };
        let surface = (cable(gauge).area_m2() / reference.area_m2()).sqrt();
        let same = settles(&losing(loss), *amperes);
        let by_surface = settles(&losing(surface * loss), *amperes);
        assert!(same < limit - 1.0 && by_surface > limit + 1.0, "{gauge} AWG: {same} and {by_surface} against {limit}");
    }
}

/// The length that a voltage drop allows at a conductor temperature: L2 = 254.5 L1 / (234.5 + T2) for copper, L1 at 20 °C
/// (FAA AC 43.13-1B, read; the aluminium of that text, 238.1, is another alloy than ours, whose coefficient is from memory).
#[test]
fn val_a_warm_copper_cable_carries_as_far_as_the_handbook_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/service_limits.toml");
    let source: toml::Table = std::fs::read_to_string(path).unwrap().parse().unwrap();
    assert_eq!(source["faa_temperature_length"]["cu"].as_str(), Some("L2 = 254.5 L1 / (234.5 + T2)"));
    for gauge in ["12", "8", "2", "4/0"] {
        let at = |celsius: f64| {
            let mut cable = Cable::new(format!("{gauge} AWG").as_str(), "10 m").unwrap();
            cable.temperature_c = Temperature::from_si(celsius);
            cable.resistance()
        };
        for warm in [-20.0, 60.0, 105.0] {
            // 0.00393 per kelvin and 234.5 °C are the same law rounded: 2e-4 apart at 20 °C, 1.2e-4 of a ratio at 105 °C.
            assert_close(at(20.0) / at(warm), 254.5 / (234.5 + warm), 2e-4, &format!("{gauge} AWG at {warm} °C"));
        }
    }
}
