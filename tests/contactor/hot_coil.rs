//! Pull-in voltage of a hot coil against printed examples.

use serde::Deserialize;
use stallpoint::circuit::Circuit;
use stallpoint::parts::{Coil, ReversingContactor, VoltageSource};

use super::drive::TERMINALS;

#[derive(Deserialize)]
struct File {
    example: Vec<Example>,
}

#[derive(Deserialize)]
#[allow(non_snake_case)] // as the file prints them
struct Example {
    T0_C: f64,
    R0_ohm: f64,
    pull_in_V0: f64,
    pull_in_V1: f64,
    R1_ohm: f64,
    T1_C: Option<f64>,
}

fn examples() -> Vec<Example> {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/coil.toml")).unwrap();
    toml::from_str::<File>(&text).unwrap().example
}

/// The contactor of an example, its data sheet's values brought to 20 °C.
fn contactor(example: &Example) -> ReversingContactor {
    let to_20 = 1.0 / (1.0 + 0.00393 * (example.T0_C - 20.0)); // IEC 60028
    let coil = Coil::new(24.0, example.R0_ohm * to_20).unwrap();
    ReversingContactor::new(coil, example.pull_in_V0 * to_20, 1.0).unwrap()
}

#[test]
fn val_hot_coil_needs_the_printed_voltage() {
    let examples = examples();
    assert_eq!(examples.len(), 2);
    for example in &examples {
        let contactor = contactor(example);
        let hot = example.T1_C.unwrap();
        // The printed rows round 1/254.5 or use 0.003929; with the last printed digit that makes 1.2e-4.
        let resistance = contactor.coil.resistance_at(hot);
        assert!((resistance / example.R1_ohm - 1.0).abs() < 1.2e-4, "{resistance} against {}", example.R1_ohm);
        // printed with three or four digits
        let pull_in = contactor.pull_in_voltage_at(hot);
        assert!((pull_in / example.pull_in_V1 - 1.0).abs() < 1e-3, "{pull_in} against {}", example.pull_in_V1);
    }
}

#[test]
fn val_a_hot_contactor_pulls_in_just_above_the_printed_voltage() {
    for example in &examples() {
        for (share, pulls) in [(0.998, 0.0), (1.002, 1.0)] {
            let mut contactor = contactor(example);
            contactor.coil.temperature_c = stallpoint::quantity::Temperature::from_si(example.T1_C.unwrap());
            let mut circuit = Circuit::new();
            let source = VoltageSource::constant(share * example.pull_in_V1).unwrap();
            circuit.add("source", source, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
            let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
            circuit.add("contactor", contactor, nodes).unwrap();
            let op = circuit.operating_point().unwrap();
            assert_eq!(
                op.state("contactor", "armature_a_position").unwrap(),
                pulls,
                "at {share} of the printed voltage"
            );
        }
    }
}
