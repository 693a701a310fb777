//! Users' own parts that break a rule get typed errors.

use super::build::{resistor, with_source};
use super::switching_parts::{Broken, Buzzer, Timer};
use stallpoint::Error;
use stallpoint::circuit::{Circuit, Ending, Part, TransientOptions};
use stallpoint::parts::{Inductor, VoltageSource};

fn with(part: impl Part + 'static) -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "lead", 1.0, "p", "q");
    circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "q"), ("b", "m")]).unwrap();
    resistor(&mut circuit, "core", 100.0, "q", "m");
    circuit.add("own", part, [("a", "m"), ("b", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_an_unannounced_derivative() {
    let expected = "part \"own\" wrote a derivative that its first evaluation did not; touch the same entries in every mode, with zeros where nothing depends";
    // Between two nodes, so that the missing entries are not the reference's.
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    circuit.add("own", Timer { times: vec![0.5], slipping: true }, [("a", "p"), ("b", "m")]).unwrap();
    resistor(&mut circuit, "load", 1.0, "m", "ground");
    let error = circuit.transient(1.0, &TransientOptions::default()).unwrap_err();
    assert!(matches!(&error, Error::Unannounced { part } if part == "own"), "{error}");
    assert_eq!(error.to_string(), expected);
    // Before the slip nothing is wrong.
    circuit.transient(0.4, &TransientOptions::default()).unwrap();
}

#[test]
fn exact_a_chattering_part_is_named() {
    let error = with(Buzzer).operating_point().unwrap_err();
    assert!(matches!(&error, Error::NoEquilibrium { parts } if parts == "\"own\""), "{error}");
    assert_eq!(
        error.to_string(),
        "there is no operating point: switching never ends in \"own\" (as when a contactor chatters, or a shaft starts and stops \
         by turns); look at a transient instead"
    );
    // Without an inductance to slow it, the transient stops too, at once and by name.
    let mut circuit = with_source(VoltageSource::constant(12.0).unwrap());
    resistor(&mut circuit, "lead", 1.0, "p", "m");
    circuit.add("own", Buzzer, [("a", "m"), ("b", "ground")]).unwrap();
    let error = circuit.transient(1.0, &TransientOptions::default()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "at 0 s the mode changed more than 64 times without time going on, by turns: part \"own\" pulls in, part \"own\" drops out"
    );
}

#[test]
fn exact_what_was_computed_before_an_error_is_kept() {
    let error = with(Broken { after: 0.5 }).transient(1.0, &TransientOptions::default()).unwrap_err();
    let text = error.to_string();
    let Error::Solve { partial: Some(run), .. } = error else { panic!("{text}") };
    let last = run.time()[run.len() - 1];
    assert!((last - 0.5).abs() < 1e-6, "{last}");
    assert!(text.ends_with(" s the sum of currents at node \"m\" is not a finite number"), "{text}");
    assert!((run.current("own").unwrap()[run.len() - 1] - 6.0).abs() < 1e-3);
    assert!(run.energy.part("source").unwrap().delivered > 0.0);
    assert!(run.counters.steps as usize + 1 == run.len());
}

#[test]
fn exact_a_timer_runs_to_its_times() {
    let times = vec![0.1, 0.1 + 0.2, 0.7];
    let run =
        with(Timer { times: times.clone(), slipping: false }).transient(1.0, &TransientOptions::default()).unwrap();
    assert_eq!(run.ending, Ending::Finished);
    let found: Vec<f64> = run.events.iter().map(|event| event.time).collect();
    assert_eq!(found, times);
    let words: Vec<&str> = run.events.iter().map(|event| event.what.as_str()).collect();
    assert_eq!(words, ["closes", "opens", "closes"]);
}
