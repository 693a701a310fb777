//! Short ways to the circuits and references of these tests.

use stallpoint::circuit::Circuit;
use stallpoint::parts::{PermanentMagnetMotor, Resistor, VoltageSource};

/// A table of a reference file under `tests/reference`.
pub fn reference(file: &str, table: &str) -> toml::Table {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let all: toml::Table = std::fs::read_to_string(path).unwrap().parse().unwrap();
    all[table].as_table().unwrap().clone()
}

/// A number of a reference table.
pub fn number(table: &toml::Table, key: &str) -> f64 {
    table[key].as_float().unwrap_or_else(|| panic!("{key} is not a float"))
}

/// Numbers of a reference table.
pub fn numbers(table: &toml::Table, key: &str) -> Vec<f64> {
    table[key].as_array().unwrap().iter().map(|value| value.as_float().unwrap()).collect()
}

/// A circuit with a source named `source` from `p` to the reference.
pub fn with_source(source: VoltageSource) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", source, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

/// A resistor of so many ohms.
pub fn resistor(circuit: &mut Circuit, name: &str, ohms: f64, a: &str, b: &str) {
    circuit.add(name, Resistor::new(ohms).unwrap(), [("a", a), ("b", b)]).unwrap();
}

/// A motor by numbers in SI: resistance, inductance, constant, inertia.
pub fn motor(r: f64, l: f64, k: f64, j: f64) -> PermanentMagnetMotor {
    PermanentMagnetMotor::new(r, l, k, j).unwrap()
}

/// A motor named `motor` straight on a source of `v` volts.
pub fn on_source(v: f64, motor: PermanentMagnetMotor) -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(v).unwrap());
    circuit.add("motor", motor, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

/// Largest of some magnitudes.
pub fn largest(values: impl IntoIterator<Item = f64>) -> f64 {
    values.into_iter().fold(0.0, |most, value| if value.is_nan() { f64::NAN } else { most.max(value.abs()) })
}
