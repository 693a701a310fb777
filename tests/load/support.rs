//! What these tests share. All values invented.

use stallpoint::circuit::{Circuit, Run};
use stallpoint::parts::{PermanentMagnetMotor, Resistor, VoltageSource};

pub const K: f64 = 0.05; // N·m/A
pub const R: f64 = 0.1; // ohm, with the lead
pub const G: f64 = 9.80665; // m/s², 3rd CGPM 1901

/// A lossless motor of 0.06 ohm behind a lead of 0.04 ohm on a stiff source.
pub fn motor_on(volts: f64) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant(volts).unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("lead", Resistor::new("40 mohm").unwrap(), [("a", "p"), ("b", "stud")]).unwrap();
    let motor = PermanentMagnetMotor::new("60 mohm", "150 uH", "0.05 N m/A", "0.002 kg m2").unwrap();
    circuit.add("motor", motor, [("plus", "stud"), ("minus", "ground")]).unwrap();
    circuit
}

/// A circuit for shafts without a motor.
pub fn no_motor() -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("1 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("beside", Resistor::new("1 kohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit
}

#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}

/// Asserts that the energy of a run adds up to 1e-6 of what moved.
#[track_caller]
pub fn assert_energy_adds_up(run: &Run) {
    let (residual, delivered) = (run.energy.residual(), run.energy.delivered());
    assert!(delivered > 0.0 && residual.abs() <= 1e-6 * delivered, "{residual} J of {delivered} J");
}

/// Events of a part.
pub fn events(run: &Run, part: &str) -> Vec<(f64, String)> {
    run.events.iter().filter(|event| event.part == part).map(|event| (event.time, event.what.clone())).collect()
}
