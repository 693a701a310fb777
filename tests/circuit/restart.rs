//! Runs that go on from an operating point or from another run.

use super::build::{motor, resistor, with_source};
use super::switching_parts::Timer;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::VoltageSource;
use stallpoint::parts::load::ResistingTorque;

/// Starts, is switched off for a while, is switched on again.
fn drive() -> Circuit {
    let corners = [0.0, 0.3, 0.31, 0.8, 0.81];
    let mut circuit = with_source(VoltageSource::table(corners, [12.6, 12.6, 2.0, 2.0, 12.6]).unwrap());
    resistor(&mut circuit, "lead", 0.03, "p", "stud");
    circuit.add("motor", motor(0.025, 120e-6, 0.045, 0.004), [("plus", "stud"), ("minus", "ground")]).unwrap();
    circuit.attach("motor", ResistingTorque::new(1.0, 1.5).unwrap()).unwrap();
    circuit
        .add("timer", Timer { times: vec![0.2, 0.5, 0.9], slipping: false }, [("a", "stud"), ("b", "ground")])
        .unwrap();
    circuit
}

#[test]
fn exact_in_pieces_as_in_one() {
    let circuit = drive();
    let whole = circuit.transient(1.2, &TransientOptions::rtol(1e-7)).unwrap();
    let mut options = TransientOptions::rtol(1e-7);
    let mut events = Vec::new();
    let mut last = None;
    // Some pieces end in the middle of nowhere, some at an event, one just after one.
    for until in [0.05, 0.2, 0.3, 0.4999, 0.5, 0.81, 1.2] {
        let run = circuit.transient(until, &options).unwrap();
        events.extend(run.events.clone());
        options.start = run.state_at_end();
        last = Some(run);
    }
    let last = last.unwrap();
    for (what, one, pieces) in [
        ("current", whole.current("motor").unwrap(), last.current("motor").unwrap()),
        ("speed", whole.state("motor", "speed").unwrap(), last.state("motor", "speed").unwrap()),
    ] {
        let (one, pieces) = (one[one.len() - 1], pieces[pieces.len() - 1]);
        assert!((one / pieces - 1.0).abs() < 1e-4, "{what}: {one} in one, {pieces} in pieces");
    }
    // Each event once, at the same time and in the same order.
    let names = |events: &[stallpoint::Event]| {
        events.iter().map(|event| format!("{} {}", event.part, event.what)).collect::<Vec<_>>()
    };
    assert_eq!(names(&events), names(&whole.events));
    for (one, two) in whole.events.iter().zip(&events) {
        assert!((one.time - two.time).abs() < 1e-6, "{one} against {two}");
    }
}

#[test]
fn exact_from_an_operating_point_nothing_moves() {
    let mut circuit = super::build::on_source(12.6, motor(0.055, 120e-6, 0.045, 0.004));
    circuit.attach("motor", ResistingTorque::new(3.0, 3.6).unwrap()).unwrap();
    let op = circuit.operating_point().unwrap();
    let options = TransientOptions { start: Some(op.as_start()), ..Default::default() };
    let run = circuit.transient(1.0, &options).unwrap();
    assert!(run.events.is_empty());
    for (what, value, values) in [
        ("current", op.current("motor").unwrap(), run.current("motor").unwrap()),
        ("speed", op.state("motor", "speed").unwrap(), run.state("motor", "speed").unwrap()),
    ] {
        for found in values {
            assert!((found / value - 1.0).abs() < 1e-6, "{what}: {found} from {value}");
        }
    }
}

#[test]
fn exact_another_circuits_state_is_refused() {
    let state = drive().operating_point().unwrap().as_start();
    let mut other = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut other, "load", 1.0, "p", "ground");
    let options = TransientOptions { start: Some(state.clone()), ..Default::default() };
    assert_eq!(
        other.transient(1.0, &options).unwrap_err().to_string(),
        "the start state belongs to another circuit: it has part \"lead\" where this one has \"load\""
    );
    let mut more = drive();
    resistor(&mut more, "extra", 1.0, "p", "ground");
    let text = more.transient(1.0, &options).unwrap_err().to_string();
    assert!(text.starts_with("the start state belongs to another circuit: it has "), "{text}");
}
