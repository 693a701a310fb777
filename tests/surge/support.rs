//! What these tests share.

use serde_json::Value;
use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::report::{Check, Verdict};
use stallpoint::studies::surge::{SurgeStudy, surge_study};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

/// The boat lift with other values; "left out" takes an optional one away.
pub fn with(values: &[(&str, &str)]) -> Drive {
    let mut drive = boat_lift().to_value().unwrap();
    for (key, value) in values.iter().filter(|(_, value)| *value == "left out") {
        let (table, name) = key.split_once('.').unwrap();
        drive[table].as_object_mut().unwrap().remove(name).unwrap_or_else(|| panic!("{key} = {value}"));
    }
    let values = values.iter().filter(|(_, value)| *value != "left out");
    Drive::from_value(drive).unwrap().with_values(values.map(|&(key, value)| (key, Value::from(value)))).unwrap()
}

pub fn study(values: &[(&str, &str)]) -> SurgeStudy {
    surge_study(&with(values)).unwrap()
}

/// The checks whose requirement contains the words.
pub fn checks<'s>(study: &'s SurgeStudy, words: &str) -> Vec<&'s Check> {
    let found: Vec<&Check> = study.checks.iter().filter(|check| check.requirement.contains(words)).collect();
    assert!(!found.is_empty(), "{words}");
    found
}

/// The worst verdict of these checks.
pub fn verdict(study: &SurgeStudy, words: &str) -> Verdict {
    let found = checks(study, words);
    Verdict::ALL.into_iter().find(|verdict| found.iter().any(|check| check.verdict == *verdict)).unwrap()
}

/// Asserts that two numbers agree to `relative`.
#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}
