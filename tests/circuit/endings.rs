//! How runs end, and that what was computed is kept.

use super::build::{motor, on_source, resistor, with_source};
use super::switching_parts::Timer;
use stallpoint::circuit::{Circuit, Ending, Flow, TransientOptions};
use stallpoint::parts::VoltageSource;
use stallpoint::parts::load::ResistingTorque;

fn start() -> Circuit {
    let mut circuit = on_source(12.6, motor(0.055, 120e-6, 0.045, 0.004));
    circuit.attach("motor", ResistingTorque::new(3.0, 3.6).unwrap()).unwrap();
    circuit
}

#[test]
fn exact_finished_at_the_very_end() {
    let run = start().transient(0.7, &TransientOptions::default()).unwrap();
    assert_eq!(run.ending, Ending::Finished);
    assert_eq!(run.time()[run.len() - 1].to_bits(), 0.7_f64.to_bits());
}

#[test]
fn exact_stopped_at_the_event_of_a_part() {
    let options = TransientOptions { stop_at_event_of: Some("motor.shaft".into()), ..Default::default() };
    let run = start().transient(0.7, &options).unwrap();
    assert_eq!(run.ending, Ending::StoppedAtEvent);
    assert_eq!(run.events.len(), 1);
    assert_eq!(run.time()[run.len() - 1], run.events[0].time);
    let unknown = TransientOptions { stop_at_event_of: Some("shaft".into()), ..Default::default() };
    assert_eq!(
        start().transient(0.7, &unknown).unwrap_err().to_string(),
        "there is no part \"shaft\"; known are \"source\", \"motor\", \"motor.resisting_torque\", \"motor.shaft\""
    );
}

#[test]
fn exact_cancelled_by_its_watcher() {
    let mut calls = 0;
    let run = start()
        .transient_watched(0.7, &TransientOptions::default(), &mut |progress| {
            calls += 1;
            assert_eq!((progress.until, progress.steps), (0.7, calls));
            if progress.time > 0.1 { Flow::Stop } else { Flow::Continue }
        })
        .unwrap();
    assert_eq!(run.ending, Ending::Cancelled);
    assert!(run.time()[run.len() - 1] > 0.1 && run.time()[run.len() - 2] <= 0.1);
    assert_eq!(run.counters.steps, calls);
    assert!(run.energy.delivered() > 0.0);
    assert!(run.sample(&[0.05]).is_ok());
}

#[test]
fn exact_step_limit() {
    let options = TransientOptions { max_steps: 7, ..Default::default() };
    let run = start().transient(0.7, &options).unwrap();
    assert_eq!((run.ending, run.counters.steps), (Ending::StepLimit, 7));
}

#[test]
fn exact_event_at_the_exact_end() {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "lead", 1.0, "p", "m");
    circuit.add("timer", Timer { times: vec![0.3], slipping: false }, [("a", "m"), ("b", "ground")]).unwrap();
    let run = circuit.transient(0.3, &TransientOptions::default()).unwrap();
    assert_eq!(run.ending, Ending::Finished);
    assert_eq!(run.events.len(), 1);
    // Two rows at the end: before and after.
    let (rows, v) = (run.len(), run.voltage("m").unwrap());
    assert_eq!((run.time()[rows - 2], run.time()[rows - 1]), (0.3, 0.3));
    assert!((v[rows - 2] - 12.0 / 1.001).abs() < 1e-9 && (v[rows - 1] - 6.0).abs() < 1e-9);
    assert!((run.sample(&[0.3]).unwrap().voltage("m").unwrap()[0] - 6.0).abs() < 1e-9);
}

#[test]
fn exact_arguments_refused() {
    let text = |until: f64, options: &TransientOptions| start().transient(until, options).unwrap_err().to_string();
    let default = TransientOptions::default();
    assert_eq!(text(0.0, &default), "the time span from 0 s to 0 s is empty: the end must be later than the start");
    assert_eq!(text(1.0, &TransientOptions::rtol(0.5)), "option `rtol` is 0.5: choose it between 1e-12 and 0.1");
    let unit = TransientOptions { atol: vec![("W".into(), 1.0)], ..Default::default() };
    assert_eq!(text(1.0, &unit), "`atol` is W, but must be a unit of this circuit's unknowns: A, N m, V, degC, rad/s");
    for value in [0.0, -1.0, f64::NAN] {
        let options = TransientOptions { atol: vec![("A".into(), value)], ..Default::default() };
        assert_eq!(text(1.0, &options), format!("`atol` is {value} A, but must be above 0 A"));
    }
}
