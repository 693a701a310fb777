//! The order and the times of what happens.

use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{RestPosition, ReversingContactor, VoltageSource};

use super::drive::{assert_sound, contactor, control_and_power, events_of, pulses, with_motor};

const OPERATE: f64 = 20e-3;
const RELEASE: f64 = 15e-3;

fn time_of(events: &[(f64, &str)], what: &str) -> f64 {
    events.iter().find(|event| event.1 == what).unwrap_or_else(|| panic!("no \"{what}\" in {events:?}")).0
}

#[test]
fn exact_sequence_braked() {
    let circuit = control_and_power(contactor(RestPosition::Braked), pulses(&[(0.01, 0.1)]), pulses(&[]));
    let run = circuit.transient(0.2, &TransientOptions::rtol(1e-6)).unwrap();
    assert_sound(&run, 1e-6);
    let events = events_of(&run, "contactor");
    let words: Vec<&str> = events.iter().map(|event| event.1).collect();
    let bounces = ["set A bounces"; 3];
    let expected = [
        &["coil A pulls in", "set A leaves ground", "set A makes"][..],
        &bounces[..],
        &["coil A drops out", "set A breaks", "set A back on ground"][..],
        &bounces[..],
    ]
    .concat();
    assert_eq!(words, expected);
    let (pull, drop) = (time_of(&events, "coil A pulls in"), time_of(&events, "coil A drops out"));
    for (k, after) in [0.0, 0.0, OPERATE, OPERATE + 0.5e-3, OPERATE + 1.5e-3, OPERATE + 2.5e-3].iter().enumerate() {
        assert!((events[k].0 - pull - after).abs() < 1e-12, "{k}: {events:?}");
    }
    for (k, after) in [0.0, 0.0, RELEASE, RELEASE + 0.5e-3, RELEASE + 1.5e-3, RELEASE + 2.5e-3].iter().enumerate() {
        assert!((events[k + 6].0 - drop - after).abs() < 1e-12, "{k}: {events:?}");
    }
}

#[test]
fn exact_sequence_open() {
    let circuit = control_and_power(contactor(RestPosition::Open), pulses(&[]), pulses(&[(0.01, 0.1)]));
    let run = circuit.transient(0.2, &TransientOptions::rtol(1e-6)).unwrap();
    assert_sound(&run, 1e-6);
    let words: Vec<&str> = events_of(&run, "contactor").iter().map(|event| event.1).collect();
    let expected = [
        "coil B pulls in",
        "set B makes",
        "set B bounces",
        "set B bounces",
        "set B bounces",
        "coil B drops out",
        "set B breaks",
        "set B back at rest",
    ];
    assert_eq!(words, expected);
    let closed = |name: &str| run.state("contactor", name).unwrap().iter().any(|value| *value > 0.0);
    assert!(closed("supply_b_closed") && closed("ground_a_closed"));
    assert!(!closed("supply_a_closed") && !closed("ground_b_closed"));
}

#[test]
fn exact_a_coil_let_go_during_the_pull_is_released_on_arrival() {
    // The guard of drop-out is already true when the armature seals.
    let circuit = control_and_power(contactor(RestPosition::Braked), pulses(&[(0.0, 0.006)]), pulses(&[]));
    let run = circuit.transient(0.1, &TransientOptions::rtol(1e-6)).unwrap();
    let events = events_of(&run, "contactor");
    let makes = time_of(&events, "set A makes");
    assert_eq!(time_of(&events, "coil A drops out"), makes);
    assert!((time_of(&events, "set A back on ground") - makes - RELEASE).abs() < 1e-12);
    // The bounces of making are dropped; only those of the way back are seen.
    let bounces: Vec<f64> = events.iter().filter(|event| event.1 == "set A bounces").map(|event| event.0).collect();
    assert_eq!(bounces.len(), 3);
    assert!(bounces[0] > makes + RELEASE);
}

#[test]
fn exact_interlock_bars_the_second_armature_until_the_first_is_back() {
    let b = pulses(&[(0.05, 0.25)]);
    let circuit = control_and_power(contactor(RestPosition::Open), pulses(&[(0.0, 0.1)]), b);
    let run = circuit.transient(0.3, &TransientOptions::rtol(1e-6)).unwrap();
    assert_sound(&run, 1e-6);
    let events = events_of(&run, "contactor");
    assert_eq!(time_of(&events, "coil B pulls in"), time_of(&events, "set A back at rest"));
}

#[test]
fn exact_both_coils_at_the_same_instant_move_one_armature_only() {
    let same = || VoltageSource::constant("12.6 V").unwrap();
    for rest in [RestPosition::Open, RestPosition::Braked] {
        let run =
            control_and_power(contactor(rest), same(), same()).transient(0.1, &TransientOptions::rtol(1e-6)).unwrap();
        let words: Vec<&str> = events_of(&run, "contactor").iter().map(|event| event.1).collect();
        assert!(words.contains(&"set A makes") && !words.iter().any(|what| what.contains("coil B")), "{words:?}");
    }
}

#[test]
fn exact_both_coils_without_interlock() {
    let both = |rest| {
        let contactor = ReversingContactor { interlock: false, ..contactor(rest) };
        let same = || VoltageSource::constant("12.6 V").unwrap();
        control_and_power(contactor, same(), same()).operating_point().unwrap()
    };
    let op = both(RestPosition::Braked);
    for stud in ["motor_a_stud", "motor_b_stud"] {
        assert!((op.voltage(stud).unwrap() - 12.6).abs() < 1e-6, "{stud}: both on supply");
    }
    // Open at rest it is a short: two paths of two contacts (0.3 mohm each) and two cables of 10 mohm.
    let short = 12.6 / (20e-3 + 0.3e-3);
    let op = both(RestPosition::Open);
    assert!((op.current("supply cable").unwrap() / short - 1.0).abs() < 1e-6);
}

#[test]
fn prop_break_before_make_whatever_the_control_does() {
    // Hurried control with a motor: pulses shorter and longer than the armatures' times.
    for rest in [RestPosition::Braked, RestPosition::Open] {
        let a = pulses(&[(0.0, 0.05), (0.06, 0.063), (0.07, 0.085), (0.2, 0.21)]);
        let b = pulses(&[(0.045, 0.066), (0.09, 0.15), (0.18, 0.26)]);
        let run = with_motor(contactor(rest), a, b).transient(0.3, &TransientOptions::rtol(1e-5)).unwrap();
        assert_sound(&run, 1e-5);
    }
}
