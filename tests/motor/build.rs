//! Short ways to the motors and references of these tests.

use stallpoint::circuit::{Circuit, OperatingOptions, OperatingPoint, StartFrom};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::motor::{Armature, Field, Magnetisation, Rotor, SeriesMotor, ShuntMotor};
use stallpoint::parts::{PermanentMagnetMotor, Resistor, VoltageSource};
use stallpoint::quantity::Torque;

/// rad/s in one rpm.
pub const RPM: f64 = std::f64::consts::TAU / 60.0;

/// The text of a reference file under `tests/reference`.
pub fn reference_text(file: &str) -> String {
    std::fs::read_to_string(format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// A table of a reference file.
pub fn reference(file: &str, table: &str) -> toml::Table {
    let all: toml::Table = reference_text(file).parse().unwrap();
    if table.is_empty() { all } else { all[table].as_table().unwrap().clone() }
}

fn float(value: &toml::Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|n| n as f64)).unwrap()
}

/// A number of a reference table.
pub fn number(table: &toml::Table, key: &str) -> f64 {
    float(&table[key])
}

/// Numbers of a reference table.
pub fn numbers(table: &toml::Table, key: &str) -> Vec<f64> {
    table[key].as_array().unwrap().iter().map(float).collect()
}

/// A circuit with a source of `v` volts from `p` to the reference.
pub fn with_source(v: f64) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant(v).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

pub fn resistor(circuit: &mut Circuit, name: &str, ohms: f64, a: &str, b: &str) {
    circuit.add(name, Resistor::new(ohms).unwrap(), [("a", a), ("b", b)]).unwrap();
}

/// A permanent-magnet motor straight on a source.
pub fn on_source(v: f64, motor: PermanentMagnetMotor) -> Circuit {
    let mut circuit = with_source(v);
    circuit.add("motor", motor, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit
}

/// A load torque that opposes motion.
pub fn loaded(mut circuit: Circuit, torque: f64) -> Circuit {
    circuit.attach("motor", ResistingTorque::new(torque, torque).unwrap()).unwrap();
    circuit
}

/// The operating point with the shaft turning if it can.
pub fn running(circuit: &Circuit) -> OperatingPoint {
    circuit.operating_point_with(&OperatingOptions { start: StartFrom::Running, ..Default::default() }).unwrap()
}

/// A straight magnetisation of so many N·m/A².
pub fn straight(henry: f64) -> Magnetisation {
    Magnetisation::linear(henry).unwrap()
}

pub fn series(ra: f64, field: Field, inertia: f64) -> SeriesMotor {
    SeriesMotor::new(Armature::new(ra, 1e-3).unwrap(), field, Rotor::new(inertia).unwrap())
}

pub fn shunt(ra: f64, field: Field, inertia: f64) -> ShuntMotor {
    let rotor = Rotor { friction: Torque::from_si(1e-6), ..Rotor::new(inertia).unwrap() };
    ShuntMotor::new(Armature::new(ra, 1e-3).unwrap(), field, rotor)
}

/// A series motor as two leads between `p` and the reference.
pub fn series_on_source(v: f64, motor: SeriesMotor) -> Circuit {
    let mut circuit = with_source(v);
    let wires =
        [("field_plus", "p"), ("field_minus", "between"), ("armature_plus", "between"), ("armature_minus", "ground")];
    circuit.add("motor", motor, wires).unwrap();
    circuit
}

/// A shunt motor across a source.
pub fn shunt_on_source(v: f64, motor: ShuntMotor) -> Circuit {
    let mut circuit = with_source(v);
    let wires = [("field_plus", "p"), ("field_minus", "ground"), ("armature_plus", "p"), ("armature_minus", "ground")];
    circuit.add("motor", motor, wires).unwrap();
    circuit
}

#[track_caller]
pub fn close(found: f64, expected: f64, relative: f64, what: &str) {
    println!("{what}: {found} against {expected}, {:e}", found / expected - 1.0);
    assert!((found - expected).abs() <= relative * expected.abs(), "{what}: {found} against {expected}");
}
