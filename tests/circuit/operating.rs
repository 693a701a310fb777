//! Operating points: standing or running, and what they refuse.

use super::build::{motor, on_source};
use stallpoint::circuit::{Circuit, OperatingOptions, StartFrom};
use stallpoint::parts::load::{GravityTorque, ResistingTorque};

/// Torque of the held motor: 12.6/0.055 · 0.045 = 10.3 N m.
fn loaded(running: f64, breakaway: f64) -> Circuit {
    let mut circuit = on_source(12.6, motor(0.055, 120e-6, 0.045, 0.004));
    circuit.attach("motor", ResistingTorque::new(running, breakaway).unwrap()).unwrap();
    circuit
}

fn running() -> OperatingOptions {
    OperatingOptions { start: StartFrom::Running, ..Default::default() }
}

#[test]
fn exact_two_equilibria_between_running_and_breakaway_torque() {
    let circuit = loaded(5.0, 11.0);
    let standing = circuit.operating_point().unwrap();
    assert!(standing.stuck);
    assert!((standing.current("motor").unwrap() - 12.6 / 0.055).abs() < 1e-6);
    assert!((standing.state("motor.shaft", "friction_torque").unwrap() - 0.045 * 12.6 / 0.055).abs() < 1e-9);
    let turning = circuit.operating_point_with(&running()).unwrap();
    assert!(!turning.stuck);
    assert!((turning.current("motor").unwrap() - 5.0 / 0.045).abs() < 1e-6);
}

#[test]
fn exact_running_stops_where_friction_is_more_than_the_torque() {
    let op = loaded(11.0, 12.0).operating_point_with(&running()).unwrap();
    assert!(op.stuck);
    assert_eq!(op.state("motor", "speed").unwrap(), 0.0);
}

#[test]
fn exact_a_hanging_load_turns_an_unfed_motor_backward() {
    let mut circuit = on_source(1e-6, motor(0.055, 120e-6, 0.045, 0.004));
    circuit.attach("motor", GravityTorque::new(2.0).unwrap()).unwrap();
    circuit.attach("motor", ResistingTorque::new(0.5, 3.0).unwrap()).unwrap();
    // Held while it stands; once it runs, 1.5 N m are left to drive the short-circuited motor.
    assert!(circuit.operating_point().unwrap().stuck);
    let op = circuit.operating_point_with(&running()).unwrap();
    assert!(!op.stuck);
    let current = 1.5 / 0.045;
    assert!((op.current("motor").unwrap() / current - 1.0).abs() < 1e-6);
    assert!((op.state("motor", "speed").unwrap() / (-0.055 * current / 0.045) - 1.0).abs() < 1e-6);
}

#[test]
fn exact_running_without_a_shaft_is_the_plain_operating_point() {
    let mut circuit = super::build::with_source(stallpoint::parts::VoltageSource::constant(12.0).unwrap());
    super::build::resistor(&mut circuit, "load", 4.0, "p", "ground");
    let op = circuit.operating_point_with(&running()).unwrap();
    assert!((op.current("load").unwrap() - 3.0).abs() < 1e-12);
    assert!(!op.stuck);
}
