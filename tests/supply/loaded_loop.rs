//! The parts together: battery, joints, isolator, breaker, two cables and a load.

use crate::support::{assert_close, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Part, TransientOptions};
use stallpoint::parts::{Battery, Breaker, Cable, Joint, Resistor, Switch, TripBand};

/// A part's name, the part, its connections.
type Row<'r> = (&'r str, Box<dyn Part>, [(&'r str, &'r str); 2]);

/// Values invented.
fn loop_of(isolator: Switch) -> Circuit {
    let mut circuit = Circuit::with_reference("battery_negative");
    let band = TripBand::points([[1.1, 900.0], [6.0, 1.0]], [[1.4, 3600.0], [6.0, 4.0]]).unwrap();
    let parts: [Row; 7] = [
        ("isolator", Box::new(isolator), [("a", "positive"), ("b", "isolator_out")]),
        ("joint", Box::new(Joint::new("1 mohm").unwrap()), [("a", "isolator_out"), ("b", "lug")]),
        ("breaker", Box::new(Breaker::new("60 A", band).unwrap()), [("line", "lug"), ("load", "breaker_out")]),
        ("supply", Box::new(Cable::new("25 mm2", "10 m").unwrap()), [("a", "breaker_out"), ("b", "stud")]),
        ("load", Box::new(Resistor::new("0.1 ohm").unwrap()), [("a", "stud"), ("b", "ground_stud")]),
        ("ground", Box::new(Cable::new("2 AWG", "8 m").unwrap()), [("a", "ground_stud"), ("b", "lug_2")]),
        ("joint_2", Box::new(Joint::default()), [("a", "lug_2"), ("b", "battery_negative")]),
    ];
    let battery = Battery::agm("100 Ah", "5 mohm").unwrap();
    circuit.add("battery", battery, [("plus", "positive"), ("minus", "battery_negative")]).unwrap();
    for (name, part, connections) in parts {
        circuit.add_boxed(name, part, connections).unwrap();
    }
    circuit
}

#[test]
fn exact_current_is_ohms_law_round_the_loop() {
    let circuit = loop_of(Switch::default());
    assert!(circuit.warnings().unwrap().is_empty(), "{:?}", circuit.warnings());
    let op = circuit.operating_point().unwrap();
    let back = Cable::new("2 AWG", "8 m").unwrap().resistance();
    let around = 5e-3 + 0.3e-3 + 1e-3 + 1e-3 + 7.8e-3 + 0.1 + back + 0.1e-3;
    assert_close(op.current("load").unwrap(), 12.85 / around, 1e-12, "current");
    let (sum, magnitude) = op.power_balance(0);
    assert!(sum.abs() < 1e-9 * magnitude, "{sum} of {magnitude}");
}

#[test]
fn exact_energy_adds_up_when_the_isolator_opens_under_load() {
    // Both cables lose their current in the arc: no cutset, no NaN, nothing left behind.
    for rtol in [1e-4, 1e-6, 1e-8] {
        let run = loop_of(Switch::worked([(0.01, 0.05)])).transient(0.1, &TransientOptions::rtol(rtol)).unwrap();
        let what: Vec<&str> = run.events.iter().map(|event| event.what.as_str()).collect();
        assert_eq!(what[..2], ["closes", "opens"], "{:?}", run.events);
        assert!(what.contains(&"arc goes out"), "{:?}", run.events);
        assert!(run.current("load").unwrap().last().unwrap().abs() < 1e-6);
        assert_energy_adds_up(&run, rtol);
        for cable in ["supply", "ground"] {
            assert!(run.energy.part(cable).unwrap().stored.abs() < 1e-9, "{cable}");
        }
    }
}

#[test]
fn exact_a_run_goes_on_from_an_operating_point() {
    let circuit = loop_of(Switch::default());
    let op = circuit.operating_point().unwrap();
    let options = TransientOptions { start: Some(op.as_start()), ..TransientOptions::rtol(1e-6) };
    let run = circuit.transient(0.5, &options).unwrap();
    let first = run.current("load").unwrap()[0];
    assert_close(first, op.current("load").unwrap(), 1e-9, "current");
    let charge = *run.state("battery", "state_of_charge").unwrap().last().unwrap();
    assert_close(1.0 - charge, 0.5 * first / 360_000.0, 1e-4, "charge taken");
}
