//! What these tests share.

use serde_json::Value;
use stallpoint::drive::{BOAT_LIFT, Drive};

pub fn boat_lift() -> Drive {
    Drive::from_toml_str(BOAT_LIFT).unwrap()
}

pub fn with(values: &[(&str, &str)]) -> Drive {
    boat_lift().with_values(values.iter().map(|&(key, value)| (key, Value::from(value)))).unwrap()
}
