//! What these tests share.

use serde_json::Value;
use stallpoint::drive::{BOAT_LIFT, Drive};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

/// Data that the demo's file lacks, so that every requirement can be judged: invented, plausible.
pub const COMPLETE: [(&str, &str); 10] = [
    ("limits.longest_hold", "15 s"),
    ("limits.circuit_class", "noncritical"),
    ("limits.contactor_on_time", "60 s"),
    ("limits.contactor_withstand_current", "1.5 kA"),
    ("limits.contactor_withstand_time", "1 s"),
    ("limits.isolator_making", "400 A"),
    ("limits.isolator_carrying", "150 A"),
    ("limits.isolator_breaking", "300 A"),
    ("battery.cold_cranking_amperes", "800 A"),
    ("breaker.interrupting_capacity", "5 kA"),
];

/// The boat lift with complete data and other values; "left out" takes an optional one away.
pub fn with(values: &[(&str, &str)]) -> Drive {
    let drive = boat_lift().with_values(COMPLETE.map(|(key, value)| (key, Value::from(value)))).unwrap();
    drive.with_values(values.iter().map(|&(key, value)| (key, Value::from(value)))).unwrap()
}

/// The complete boat lift with numbers in SI on top.
pub fn at(values: &[(&str, &str)], numbers: &[(&str, f64)]) -> Drive {
    with(values).with_values(numbers.iter().map(|&(key, value)| (key, Value::from(value)))).unwrap()
}
