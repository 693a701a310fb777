//! A coil whose supply sags when the contactor makes: hold limit and chatter.

use stallpoint::Error;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Resistor, RestPosition, VoltageSource};

use super::drive::{assert_sound, contactor, events_of};

const MOTOR: f64 = 0.05;
const COIL: f64 = 24.0;
const VOLTAGE: f64 = 12.6;

/// A locked motor (a resistance) and the coil's return on the ground stud, behind a bad ground joint.
fn sagging(ground_joint: f64) -> Circuit {
    let mut circuit = Circuit::new();
    let source = VoltageSource::constant(VOLTAGE).unwrap();
    circuit.add("battery", source, [("plus", "supply_stud"), ("minus", "ground")]).unwrap();
    circuit.add("ground joint", Resistor::new(ground_joint).unwrap(), [("a", "ground_stud"), ("b", "ground")]).unwrap();
    let nodes = [
        ("supply", "supply_stud"),
        ("ground", "ground_stud"),
        ("motor_a", "motor_a_stud"),
        ("motor_b", "motor_b_stud"),
        ("coil_a", "supply_stud"),
        ("coil_b", "ground_stud"),
        ("coil_return", "ground_stud"),
    ];
    circuit.add("contactor", contactor(RestPosition::Braked), nodes).unwrap();
    circuit.add("motor", Resistor::new(MOTOR).unwrap(), [("a", "motor_a_stud"), ("b", "motor_b_stud")]).unwrap();
    circuit
}

/// Ground resistance at which the coil's current is the drop-out current under locked-rotor current.
fn hold_limit() -> f64 {
    let held = 4.0; // V at drop-out
    let loads = 1.0 / COIL + 1.0 / (MOTOR + 2.0 * 0.3e-3);
    (VOLTAGE - held) / (held * loads)
}

#[test]
fn exact_hold_limit_of_the_ground_resistance() {
    let op = sagging(hold_limit() * (1.0 - 1e-6)).operating_point().unwrap();
    assert_eq!(op.state("contactor", "armature_a_position").unwrap(), 1.0);
    assert!((op.state("contactor", "coil_a_current").unwrap() / (4.0 / 24.0) - 1.0).abs() < 1e-5);
    match sagging(hold_limit() * (1.0 + 1e-6)).operating_point() {
        Err(Error::NoEquilibrium { parts }) => assert_eq!(parts, "\"contactor\""),
        other => panic!("expected no equilibrium, got {other:?}"),
    }
}

#[test]
fn exact_chatter_above_the_hold_limit_and_none_below() {
    let count = |share: f64| {
        let run = sagging(share * hold_limit()).transient(1.0, &TransientOptions::rtol(1e-5)).unwrap();
        assert_sound(&run, 1e-5);
        let words: Vec<&str> = events_of(&run, "contactor").iter().map(|event| event.1).collect();
        let of = |what: &str| words.iter().filter(|word| **word == what).count();
        (of("coil A pulls in"), of("coil A drops out"))
    };
    assert_eq!(count(0.9), (1, 0));
    let (pulls, drops) = count(1.5);
    println!("{pulls} pull-ins, {drops} drop-outs in 1 s");
    assert!(pulls >= 10 && drops >= 10, "{pulls} pull-ins, {drops} drop-outs");
}
