//! The energy account: what does not add up stays below the tolerance and falls with it.

use super::build::{motor, on_source, resistor, with_source};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::load::{GravityTorque, QuadraticTorque, ResistingTorque, ViscousTorque};
use stallpoint::parts::{Capacitor, Diode, Inductor, VoltageSource};

fn residual(circuit: &Circuit, until: f64, rtol: f64) -> f64 {
    let run = circuit.transient(until, &TransientOptions::rtol(rtol)).unwrap();
    (run.energy.residual() / run.energy.delivered()).abs()
}

fn rl() -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "resistor", 0.1, "p", "m");
    circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    circuit
}

fn rlc() -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "resistor", 0.1, "p", "m");
    circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    circuit.add("capacitor", Capacitor::new("1 mF").unwrap(), [("a", "n"), ("b", "ground")]).unwrap();
    circuit
}

fn rectifier() -> Circuit {
    let mut circuit = with_source(VoltageSource::function(|t| 17.0 * (314.159 * t).sin()));
    resistor(&mut circuit, "wire", 0.2, "p", "a");
    circuit.add("diode", Diode::default(), [("anode", "a"), ("cathode", "c")]).unwrap();
    circuit.add("filter", Capacitor::new("1 mF").unwrap(), [("a", "c"), ("b", "ground")]).unwrap();
    resistor(&mut circuit, "lamp", 7.0, "c", "ground");
    circuit
}

/// An invented hoist: starts, is reversed on the run, lowers its load.
fn hoist() -> Circuit {
    let mut armature = motor(0.025, 120e-6, 0.045, 0.004);
    armature.brush_drop = "0.8 V".parse().unwrap();
    armature.heat_capacity = Some("400 J/K".parse().unwrap());
    let reversing = VoltageSource::table([0.0, 0.5, 0.505, 1.0], [12.6, 12.6, -12.6, -12.6]).unwrap();
    let mut circuit = with_source(reversing);
    resistor(&mut circuit, "lead", 0.03, "p", "stud");
    circuit.add("motor", armature, [("plus", "stud"), ("minus", "ground")]).unwrap();
    circuit.attach("motor", ResistingTorque::new(0.5, 0.8).unwrap()).unwrap();
    circuit.attach("motor", GravityTorque::new(1.5).unwrap()).unwrap();
    circuit.attach("motor", ViscousTorque::new(1e-3).unwrap()).unwrap();
    circuit.attach("motor", QuadraticTorque::new(1e-6).unwrap()).unwrap();
    circuit
}

fn start() -> Circuit {
    let mut circuit = on_source(12.6, motor(0.055, 120e-6, 0.045, 0.004));
    circuit.attach("motor", ResistingTorque::new(3.0, 3.6).unwrap()).unwrap();
    circuit
}

#[test]
fn exact_residual_below_the_tolerance_and_falling_with_it() {
    let cases: [(&str, Circuit, f64); 4] =
        [("rl", rl(), 0.05), ("rectifier", rectifier(), 0.06), ("start", start(), 1.5), ("hoist", hoist(), 1.0)];
    for (name, circuit, until) in cases {
        for (rtol, limit) in [(1e-3, 1e-3), (1e-4, 1e-4), (1e-5, 1e-5), (1e-6, 1e-6), (1e-8, 1e-6)] {
            let found = residual(&circuit, until, rtol);
            println!("{name}, {rtol:e}: {found:e}");
            assert!(found <= limit, "{name}, {rtol:e}: {found:e}");
        }
        assert!(residual(&circuit, until, 1e-8) < 0.01 * residual(&circuit, until, 1e-5), "{name}");
    }
}

#[test]
fn regress_residual_of_a_ringing_circuit() {
    // Q = 10: the source pumps more energy to and fro than it leaves there, so the residual is 2.2 times the tolerance of
    // what it leaves. It still falls in proportion.
    for rtol in [1e-3, 1e-4, 1e-6] {
        let found = residual(&rlc(), 0.05, rtol);
        println!("rlc, {rtol:e}: {found:e}");
        assert!(found < 2.5 * rtol, "{rtol:e}: {found:e}");
    }
    assert!(residual(&rlc(), 0.05, 1e-8) < 1e-6);
}

#[test]
fn exact_the_account_names_every_part() {
    let run = hoist().transient(1.0, &TransientOptions::default()).unwrap();
    let names: Vec<&str> = run.energy.parts.iter().map(|part| part.part.as_str()).collect();
    assert_eq!(
        names,
        [
            "source",
            "lead",
            "motor",
            "motor.resisting_torque",
            "motor.gravity_torque",
            "motor.viscous_torque",
            "motor.quadratic_torque",
            "motor.shaft"
        ]
    );
    // Raised by the weight's work or lowered: gravity takes exactly torque times angle.
    let speed = stallpoint::circuit::Signal::State("motor".into(), "speed".into());
    let angle = *run.accumulated(&speed, |speed| speed).unwrap().last().unwrap();
    let gravity = run.energy.part("motor.gravity_torque").unwrap().delivered;
    assert!((gravity + 1.5 * angle).abs() < 1e-9 * gravity.abs(), "{gravity} against {}", -1.5 * angle);
    let off = TransientOptions { energy: false, ..TransientOptions::default() };
    assert!(hoist().transient(0.1, &off).unwrap().energy.parts.is_empty());
}
