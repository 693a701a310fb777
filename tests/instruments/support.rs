//! What these tests share.

use stallpoint::circuit::Circuit;
use stallpoint::parts::{Joint, VoltageSource};

#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}

/// A stiff source and a joint to a stud.
pub fn behind(volts: f64, joint: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant(volts).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", Joint::new(joint).unwrap(), [("a", "p"), ("b", "stud")]).unwrap();
    circuit
}
