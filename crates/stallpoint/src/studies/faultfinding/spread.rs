//! Drives as they come: parameters drawn from their spread.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;

use super::random::Random;
use crate::drive::{Drive, number_of, set_value, value_at};
use crate::error::Error;

#[derive(Debug, serde::Deserialize)]
struct Spread {
    absolute: BTreeMap<String, f64>,
    share: BTreeMap<String, f64>,
    joints: BTreeMap<String, f64>,
}

fn spread() -> &'static Spread {
    static SPREAD: OnceLock<Spread> = OnceLock::new();
    // The file is part of the library; a test reads it.
    SPREAD.get_or_init(|| toml::from_str(include_str!("spread.toml")).expect("the spread is a valid file"))
}

/// Draws every parameter of a drive's description that has a spread.
pub(super) fn drawn(drive: &Drive, description: &mut Value, random: &mut Random) -> Result<(), Error> {
    let spread = spread();
    for (key, deviation) in &spread.absolute {
        let step = deviation * random.normal();
        if let Some(value) = value_at(description, key).and_then(number_of) {
            set_value(description, key, Value::from((value + step).clamp(0.0, 1.0)))?;
        }
    }
    for (key, deviation) in &spread.share {
        // Drawn for absent keys too, so that drives differ only in what they have.
        let factor = (deviation * random.normal()).exp();
        if let Some(value) = value_at(description, key).and_then(number_of) {
            set_value(description, key, Value::from(value * factor))?;
        }
    }
    let deviation = spread.joints.get("resistance").copied().unwrap_or(0.0);
    for name in drive.joint_names() {
        let factor = (deviation * random.normal()).exp();
        let resistance = drive.joint(name)?.resistance.si() * factor;
        set_value(description, &format!("{name}.resistance"), Value::from(resistance))?;
    }
    // A braked contactor that no longer breaks before it pulls in, a motor that no longer starts: not drawn, so nothing to mend.
    Ok(())
}
