//! What these tests share.

use serde_json::Value;
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::report::{Check, Verdict};
use stallpoint::studies::duty::{Cycle, DutyStudy, duty_study};

/// The boat lift with other values.
pub fn boat_lift(values: &[(&str, &str)]) -> Drive {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    drive.with_values(values.iter().map(|&(key, value)| (key, Value::from(value)))).unwrap()
}

pub fn forward(on: f64, rest: f64) -> Cycle {
    Cycle::new().forward(on).unwrap().rest(rest).unwrap()
}

pub fn study(values: &[(&str, &str)], cycle: &Cycle) -> DutyStudy {
    duty_study(&boat_lift(values), cycle).unwrap()
}

/// The only check whose requirement contains the words.
pub fn check<'s>(study: &'s DutyStudy, words: &str) -> &'s Check {
    let found: Vec<&Check> = study.checks.iter().filter(|check| check.requirement.contains(words)).collect();
    assert_eq!(found.len(), 1, "{words}: {found:?}");
    found[0]
}

pub fn verdict(values: &[(&str, &str)], cycle: &Cycle, words: &str) -> Verdict {
    check(&study(values, cycle), words).verdict
}

/// Asserts that two numbers agree to `relative`.
#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}
