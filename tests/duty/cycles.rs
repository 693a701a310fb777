//! What a cycle is.

use stallpoint::drive::Direction;
use stallpoint::studies::duty::{Cycle, CycleKind, DutyOptions, duty_study, duty_study_with};

use super::support::{boat_lift, forward, study};

#[test]
fn exact_time_share_and_longest_call() {
    let cycle = Cycle::new().forward("5 s").unwrap().rest("1 min").unwrap().reverse("20 s").unwrap();
    let cycle = cycle.rest("10 s").unwrap().forward("25 s").unwrap();
    assert_eq!((cycle.kind(), cycle.time()), (CycleKind::Repeated, Some(120.0)));
    assert_eq!(cycle.duty_factor(), Some(50.0 / 120.0));
    // Forward goes on round the end.
    assert_eq!((cycle.longest_on(Direction::Forward), cycle.longest_on(Direction::Reverse)), (30.0, 20.0));
    assert_eq!(Cycle::continuous(Direction::Reverse).longest_on(Direction::Reverse), f64::INFINITY);
    let quarter = Cycle::intermittent(Direction::Forward, "25 %", "10 min").unwrap();
    assert_eq!(quarter, forward(150.0, 450.0));
    assert_eq!(quarter.to_string(), "forward 150 s, rest 450 s, repeated");
    assert_eq!(forward(10.0, 20.0).forward("5 s").unwrap().forward("6 s").unwrap().spans()[2].duration, 11.0);
}

#[test]
fn exact_bad_input_names_the_argument() {
    let said = |error: stallpoint::Error| error.to_string();
    let intermittent = |share: f64| Cycle::intermittent(Direction::Forward, share, 600.0);
    assert!(said(intermittent(1.0).unwrap_err()).contains("`duty_factor` is 1"));
    assert!(said(Cycle::new().forward("0 s").unwrap_err()).contains("`duration` is 0 s"));
    let rest = Cycle::new().rest("5 s").unwrap();
    assert!(said(duty_study(&boat_lift(&[]), &rest).unwrap_err()).contains("`cycle` is at rest for ever"));
    let continuous = Cycle::continuous(Direction::Forward);
    assert!(said(continuous.clone().rest("5 s").unwrap_err()).contains("one that repeats"));
    let short = DutyOptions { follow: 0.0, ..DutyOptions::default() };
    let refused = duty_study_with(&boat_lift(&[]), &continuous, &short, &mut |_| stallpoint::circuit::Flow::Continue);
    assert!(said(refused.unwrap_err()).contains("`follow` is 0 s"));
}

/// Charge taken: current times time, and what a start takes more.
#[test]
fn exact_charge_of_a_cycle() {
    let hour = study(&[], &Cycle::continuous(Direction::Forward)).battery;
    assert!((hour.share * 100.0 * 3600.0 - hour.charge).abs() < 1e-6 * hour.charge);
    let minute = study(&[], &forward(60.0, 600.0)).battery;
    assert!(minute.charge > hour.charge / 60.0 && minute.charge < 1.1 * hour.charge / 60.0, "{minute:?} {hour:?}");
    assert!((minute.lasts * minute.share - 0.9).abs() < 1e-12);
}

#[test]
fn exact_a_cancelled_study_says_so() {
    let cycle = forward(30.0, 60.0);
    let options = DutyOptions::default();
    let cancelled = duty_study_with(&boat_lift(&[]), &cycle, &options, &mut |_| stallpoint::circuit::Flow::Stop);
    assert!(matches!(cancelled, Err(stallpoint::Error::Cancelled)));
}
