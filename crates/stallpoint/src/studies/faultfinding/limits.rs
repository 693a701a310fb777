//! Published limits of voltage drops.

use std::sync::OnceLock;

/// A published limit, for 12 V.
#[derive(Debug, Clone, PartialEq, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ServiceLimit {
    /// What it is about: "joint", "supply_cable", "switch", "contactor", "ground", "control", "battery".
    pub of: String,
    /// Highest drop, V.
    pub highest: Option<f64>,
    /// Lowest voltage, V.
    pub lowest: Option<f64>,
    /// In the document's sense.
    pub words: String,
    /// Document and page.
    pub doc: String,
}

#[derive(serde::Deserialize)]
struct File {
    limit: Vec<ServiceLimit>,
}

/// Published limits of voltage drops in 12 V starting circuits, each with its source.
///
/// # Example
/// ```
/// use stallpoint::studies::faultfinding::service_limits;
///
/// assert!(service_limits().iter().all(|limit| !limit.doc.is_empty()));
/// ```
pub fn service_limits() -> &'static [ServiceLimit] {
    static LIMITS: OnceLock<File> = OnceLock::new();
    // The file is part of the library; a test reads it.
    &LIMITS.get_or_init(|| toml::from_str(include_str!("limits.toml")).expect("the limits are a valid file")).limit
}

/// The limit of what lies between two points, if one is published.
pub(super) fn between(plus: &str, minus: &str) -> Option<&'static ServiceLimit> {
    let of = if minus == format!("{plus}_lug") {
        "joint"
    } else {
        match (plus, minus) {
            ("battery_positive", "battery_negative") => "battery",
            ("isolator_in", "isolator_out") | ("breaker_in", "breaker_out") => "switch",
            ("breaker_out_lug", "supply_stud_lug") => "supply_cable",
            ("ground_stud", "battery_negative") | ("ground_stud_lug", "battery_negative_lug") => "ground",
            ("supply_stud", "motor_a_stud") | ("motor_b_stud", "ground_stud") => "contactor",
            ("control_supply", "control_out_a" | "control_out_b") => "control",
            ("control_out_a", "coil_a_lug") | ("control_out_b", "coil_b_lug") => "control",
            _ => return None,
        }
    };
    service_limits().iter().find(|limit| limit.of == of)
}
