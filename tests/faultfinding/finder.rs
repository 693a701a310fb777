//! The finder on known readings.

use stallpoint::drive::{Fault, Section};
use stallpoint::studies::faultfinding::{FaultFinder, Held, Measurement, Observed, StopRule, Tool};

use super::support::{boat_lift, shown, table, volts};

fn word(word: &str) -> Observed {
    Observed::Word(word.into())
}

#[test]
fn prop_it_follows_its_own_advice_to_the_fault() {
    for fault in [
        Fault::joint("ground_stud_joint", "0.13 ohm").unwrap(),
        Fault::new("supply_contact_a", "not_making"),
        Fault::new("signal_wire_b", "broken"),
        Fault::new("battery", "worn").with_amount(10.0),
    ] {
        let bad = boat_lift().with_fault(&fault).unwrap();
        let mut finder = FaultFinder::on(table());
        let mut made = 0;
        while let Some(next) = finder.next_test(&StopRule::default()).unwrap() {
            assert!(next.bits > 0.0 && !next.why.is_empty());
            let answer = finder.table().shown(&bad, &next.measurement).unwrap();
            finder.observe(&next.measurement, &answer).unwrap();
            made += 1;
            assert!(made < 25, "{fault}");
        }
        let ranking = finder.ranking();
        let first = ranking[0].fault.as_ref().unwrap();
        assert_eq!((&first.part, &first.mode), (&fault.part, &fault.mode), "{}", finder.reason());
        println!("{fault}: {made} measurements; {}", finder.reason());
    }
}

/// Supply good, ground good, signals good: contactor.
#[test]
fn val_good_supply_ground_and_signals_leave_the_contactor() {
    let mut finder = FaultFinder::on(table());
    let fault = Fault::new("supply_contact_a", "not_making");
    let look = Measurement::look(Tool::WatchMotor, Held::Forward);
    finder.observe(&look, &word("stands")).unwrap();
    for (held, plus, minus) in [
        (Held::Forward, "supply_stud", "battery_negative"),
        (Held::Forward, "ground_stud", "battery_negative"),
        (Held::Forward, "coil_a", "coil_return"),
    ] {
        // Forward alone: it would run in reverse, with a burnt contact, and not with an open motor.
        let m = volts(held, plus, minus);
        finder.observe(&m, &shown(&fault, &m)).unwrap();
    }
    let sections = finder.sections();
    let of = |wanted: Section| sections.iter().find(|(section, _)| *section == wanted).unwrap().1;
    assert!(of(Section::Contactor) > 0.75, "{sections:?}");
    // A prior yields: a contactor that passes its volts to the motor is not to blame.
    let across = volts(Held::Forward, "motor_a_stud", "motor_b_stud");
    finder.observe(&across, &shown(&Fault::new("motor", "open"), &across)).unwrap();
    let sections = finder.sections();
    let of = |wanted: Section| sections.iter().find(|(section, _)| *section == wanted).unwrap().1;
    assert!(of(Section::Contactor) < 0.2 && of(Section::Motor) > 0.6, "{sections:?}");
}

#[test]
fn prop_a_contradiction_is_said_and_the_wrong_reading_named() {
    let mut finder = FaultFinder::on(table());
    let fault = Fault::joint("ground_stud_joint", "0.13 ohm").unwrap();
    let good = [
        volts(Held::Forward, "ground_stud", "battery_negative"),
        volts(Held::Forward, "ground_stud", "ground_stud_lug"),
        volts(Held::Forward, "supply_stud", "ground_stud"),
    ];
    for m in &good {
        finder.observe(m, &shown(&fault, m)).unwrap();
    }
    assert_eq!(finder.contradiction(), None);
    let slip = volts(Held::AtRest, "battery_positive", "battery_negative");
    finder.observe(&slip, &Observed::Number(3.1)).unwrap();
    let found = finder.contradiction().expect("a battery at 3.1 V does not drive 60 A");
    assert_eq!(found.reading.measurement, slip);
    assert!(finder.reason().contains("contradict"));
    finder.forget(found.suspect).unwrap();
    assert_eq!(finder.contradiction(), None);
    assert_eq!(finder.ranking()[0].fault.as_ref().unwrap().part, "ground_stud_joint");
}

#[test]
fn exact_bad_readings_are_refused_and_leave_no_trace() {
    let mut finder = FaultFinder::on(table());
    let before = finder.sections();
    let bad = [
        (volts(Held::Forward, "moon", "ground_stud"), Observed::Number(1.0), "moon"),
        (volts(Held::Forward, "supply_stud", "ground_stud"), word("bright"), "a number of V"),
        (Measurement::look(Tool::WatchMotor, Held::Forward), word("sideways"), "stands"),
        (volts(Held::Isolated, "supply_stud", "ground_stud"), Observed::Number(1.0), "ohmmeter"),
        (volts(Held::Forward, "supply_stud", "ground_stud"), Observed::Number(f64::NAN), "finite"),
    ];
    for (measurement, observed, says) in bad {
        let text = finder.observe(&measurement, &observed).unwrap_err().to_string();
        assert!(text.contains(says), "{text}");
    }
    assert_eq!(finder.sections(), before);
}

#[test]
fn prop_the_procedure_has_limits_meanings_and_cautions() {
    let mut finder = FaultFinder::on(table());
    let text = finder.procedure().unwrap().to_text();
    for wanted in ["Make safe", "licensed practice", "Published limit", "TM 5-3820-256-24-4", "nine times in ten"] {
        assert!(text.contains(wanted), "{wanted}");
    }
    for each in ["Healthy:", "Tests:", "Caution:"] {
        assert_eq!(text.matches(each).count(), 15, "{each}");
    }
    for step in finder.steps().unwrap() {
        assert!(!step.tests.is_empty() && !step.meanings.is_empty(), "{}", step.title);
        assert!(step.tests.contains(&step.meanings[0].faults[0]), "{}: {:?}", step.title, step.meanings[0]);
        assert!(step.caution.len() > 40, "{}", step.title);
    }
    // No instrument shows nanovolts.
    assert!(!text.contains(" nV") && !text.contains(" pA") && !text.contains(" µV"), "{text}");
}

/// What is dangerous is said where it is, and only there.
#[test]
fn prop_cautions_fit_the_place() {
    let rest = Measurement::look(Tool::WatchMotor, Held::AtRest).caution();
    assert!(rest.contains("closes again"), "{rest}");
    let ground = volts(Held::Forward, "ground_stud", "ground_stud_lug").caution_with(Some(1600.0));
    let supply = volts(Held::Forward, "supply_stud", "ground_stud").caution_with(Some(1600.0));
    assert!(!ground.contains("dead short") && supply.contains("about 1.6 kA"), "{ground} {supply}");
    let motor = |held| volts(held, "motor_a_stud", "motor_b_stud").caution().contains("dead short");
    assert!(motor(Held::Reverse) && !motor(Held::AtRest));
    let catalogue = stallpoint::drive::fault_catalogue(&boat_lift());
    let hazard = |name: &str| catalogue.iter().find(|e| e.name() == name).unwrap().hazard.clone().unwrap();
    for name in ["battery reversed", "supply_and_ground swapped"] {
        let hazard = hazard(name);
        assert!(
            hazard.contains("battery plus") && hazard.contains("diode") && hazard.contains("dead short"),
            "{hazard}"
        );
    }
    let welded = hazard("supply_contacts both_welded");
    assert!(["shorted", "mechanical interlock", "electrical interlock", "breaker"].iter().all(|w| welded.contains(w)));
}

#[test]
fn exact_an_impossible_reading_is_refused_with_the_largest_that_can_be() {
    let mut finder = FaultFinder::on(table());
    let m = volts(Held::Forward, "ground_stud", "battery_negative");
    finder.observe(&m, &Observed::Number(0.5)).unwrap();
    let before = (finder.readings().to_vec(), finder.sections());
    let text = |error: stallpoint::Error| {
        assert!(matches!(error, stallpoint::Error::ImplausibleReading { .. }), "{error}");
        error.to_string()
    };
    let slip = text(finder.observe(&m, &Observed::Number(2700.0)).unwrap_err());
    assert!(slip.contains("2700 mV would be 2.7 V") && slip.contains("at most"), "{slip}");
    let absurd = text(finder.observe(&m, &Observed::Number(-1e6)).unwrap_err());
    assert!(!absurd.contains("would be"), "{absurd}");
    let clamp = Measurement::between(Tool::Clamp, Held::Forward, "breaker", "");
    let amperes = text(finder.observe(&clamp, &Observed::Number(90e3)).unwrap_err());
    assert!(amperes.contains("90000 mA would be 90 A"), "{amperes}");
    let ohms = Measurement::between(Tool::Ohmmeter, Held::Isolated, "coil_a", "coil_return");
    assert!(finder.observe(&ohms, &Observed::Number(-3.0)).unwrap_err().to_string().contains("0 ohm or more"));
    assert_eq!((finder.readings().to_vec(), finder.sections()), before);
    finder.observe(&m, &Observed::Number(2.7)).unwrap();
}

/// Forward's supply contact that does not make, and the ground contact of its set welded: the set cannot go over to supply.
#[test]
fn prop_what_no_instrument_tells_apart_is_one_answer() {
    for fault in [Fault::new("supply_contact_a", "not_making"), Fault::new("ground_contact_a", "welded")] {
        let mut finder = FaultFinder::on(table());
        let bad = boat_lift().with_fault(&fault).unwrap();
        let mut made = 0;
        while let Some(next) = finder.next_test(&StopRule::default()).unwrap() {
            let answer = finder.table().shown(&bad, &next.measurement).unwrap();
            finder.observe(&next.measurement, &answer).unwrap();
            made += 1;
            assert!(made < 25, "{fault}");
        }
        let first = finder.ranking().swap_remove(0);
        assert!(first.probability >= StopRule::default().sure, "{fault}: {first:?}");
        assert!(finder.reason().contains("cannot be told apart"), "{}", finder.reason());
        let all: Vec<String> = first.fault.iter().chain(&first.others).map(Fault::name).collect();
        assert!(all.contains(&fault.name()) && all.len() == 2, "{all:?}");
        assert!(first.words.starts_with("cannot be told apart by these instruments: contactor ("), "{}", first.words);
        let sum: f64 = finder.ranking().iter().map(|row| row.probability).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    }
}

#[test]
fn prop_good_means_tested_and_advice_does_not_repeat_itself() {
    let mut finder = FaultFinder::on(table());
    let fault = Fault::joint("ground_stud_joint", "0.13 ohm").unwrap();
    finder.observe(&Measurement::look(Tool::WatchMotor, Held::Forward), &word("stands")).unwrap();
    let drop = volts(Held::Forward, "ground_stud", "ground_stud_lug");
    finder.observe(&drop, &shown(&fault, &drop)).unwrap();
    let reason = finder.reason();
    // The volts of one joint say nothing of the load or of the motor's inside, however likely that joint is.
    assert!(!reason.contains("load good") && reason.contains("not tested:"), "{reason}");
    let made: Vec<Measurement> = finder.readings().iter().map(|reading| reading.measurement.clone()).collect();
    for told in finder.ranking().into_iter().filter_map(|row| row.told_by) {
        assert!(!made.contains(&told.measurement) && told.shows[0] != told.shows[1], "{told:?}");
    }
}

/// The reason of the first test names alike joints in one answer, in the order along the loop, each answer once.
#[test]
fn prop_reasons_merge_the_same_answers() {
    let mut finder = FaultFinder::on(table());
    let mut bad = finder.clone();
    for _ in 0..4 {
        let next = finder.next_test(&StopRule::default()).unwrap().unwrap();
        assert_eq!(bad.next_test(&StopRule::default()).unwrap().unwrap(), next);
        let told = next.why.split_once(": ").unwrap().1.to_string();
        let mut answers: Vec<&str> = told.split("; ").filter_map(|part| part.split_once(" if ")).map(|p| p.0).collect();
        let count = answers.len();
        answers.sort_unstable();
        answers.dedup();
        assert_eq!(answers.len(), count, "{told}");
        let answer = finder.table().shown(&boat_lift(), &next.measurement).unwrap();
        finder.observe(&next.measurement, &answer).unwrap();
        bad.observe(&next.measurement, &answer).unwrap();
    }
}

/// A motor that stands is not called good, however good all volts look: worn brushes take what the meters do not miss.
#[test]
fn prop_worn_brushes_are_not_called_good() {
    let mut finder = FaultFinder::on(table());
    let bad = boat_lift().with_fault(&Fault::new("motor", "worn_brushes")).unwrap();
    while let Some(next) = finder.next_test(&StopRule::default()).unwrap() {
        let answer = finder.table().shown(&bad, &next.measurement).unwrap();
        finder.observe(&next.measurement, &answer).unwrap();
    }
    let first = &finder.ranking()[0];
    assert_eq!(first.fault.as_ref().map(Fault::name).as_deref(), Some("motor worn_brushes"), "{}", finder.reason());
    assert!(!finder.reason().contains("motor good"), "{}", finder.reason());
}

/// Slow or not is a matter of taste: such a word contradicts nothing.
#[test]
fn prop_a_slow_motor_contradicts_nothing() {
    let mut finder = FaultFinder::on(table());
    let fault = Fault::joint("ground_stud_joint", "60 mohm").unwrap();
    for word_said in ["slow forward", "forward"] {
        finder.reset();
        finder.observe(&Measurement::look(Tool::WatchMotor, Held::Forward), &word(word_said)).unwrap();
        let drop = volts(Held::Reverse, "ground_stud", "ground_stud_lug");
        finder.observe(&drop, &shown(&fault, &drop)).unwrap();
        assert_eq!(finder.contradiction(), None, "{word_said}");
        assert_eq!(finder.ranking()[0].fault.as_ref().unwrap().part, "ground_stud_joint", "{word_said}");
    }
}
