//! Published limits of voltage drops.

use std::sync::OnceLock;

use crate::report::quantity;

/// A published limit, for the nominal voltage that its document is about.
#[derive(Debug, Clone, PartialEq, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ServiceLimit {
    /// What it is about: "joint", "supply_cable", "supply_side", "switch", "contactor", "ground", "control", "battery".
    pub of: String,
    /// Nominal voltage that the document is about, V.
    pub volts: f64,
    /// Whether the value is for each 12 V battery, so that those in series count.
    #[serde(default)]
    pub each_battery: bool,
    /// Highest drop, V.
    pub highest: Option<f64>,
    /// Lowest voltage, V.
    pub lowest: Option<f64>,
    /// In the document's sense.
    pub words: String,
    /// Document and page.
    pub doc: String,
}

impl ServiceLimit {
    /// The limit in words for a drive of a nominal voltage, V: which voltage it is published for, and what that means here.
    pub fn for_drive(&self, nominal: f64) -> String {
        let (word, value) = match (self.highest, self.lowest) {
            (Some(highest), _) => ("at most", highest),
            (_, lowest) => ("at least", lowest.unwrap_or(0.0)),
        };
        let (own, words, doc) = (quantity(self.volts, "V"), &self.words, &self.doc);
        let here = if nominal == self.volts {
            String::new()
        } else if self.each_battery {
            format!(", {} for {} in series", quantity(value * nominal / self.volts, "V"), nominal / self.volts)
        } else {
            format!(", a yardstick at {}", quantity(nominal, "V"))
        };
        format!("{word} {} for {words}, published for {own}{here} ({doc})", quantity(value, "V"))
    }
}

#[derive(serde::Deserialize)]
struct File {
    limit: Vec<ServiceLimit>,
}

/// Published limits of voltage drops in 12 V and 24 V starting circuits, each with its source.
///
/// # Example
/// ```
/// use stallpoint::studies::faultfinding::service_limits;
///
/// assert!(service_limits().iter().all(|limit| !limit.doc.is_empty() && [12.0, 24.0].contains(&limit.volts)));
/// ```
pub fn service_limits() -> &'static [ServiceLimit] {
    static LIMITS: OnceLock<File> = OnceLock::new();
    // The file is part of the library; a test reads it.
    &LIMITS.get_or_init(|| toml::from_str(include_str!("limits.toml")).expect("the limits are a valid file")).limit
}

/// The limits of what lies between two points: those published for the drive's voltage, or else those for another.
pub(super) fn between(plus: &str, minus: &str, nominal: f64) -> Vec<&'static ServiceLimit> {
    let of = if minus == format!("{plus}_lug") {
        "joint"
    } else {
        match (plus, minus) {
            ("battery_positive", "battery_negative") => "battery",
            ("isolator_in", "isolator_out") | ("breaker_in", "breaker_out") | ("fuse_in", "fuse_out") => "switch",
            ("breaker_out_lug" | "fuse_out_lug", "supply_stud_lug") => "supply_cable",
            ("battery_positive", "supply_stud") => "supply_side",
            ("ground_stud", "battery_negative") | ("ground_stud_lug", "battery_negative_lug") => "ground",
            ("supply_stud", "motor_a_stud" | "motor_b_stud") | ("motor_a_stud" | "motor_b_stud", "ground_stud") => {
                "contactor"
            }
            ("control_supply", "control_out_a" | "control_out_b") => "control",
            ("control_out_a", "coil_a_lug") | ("control_out_b", "coil_b_lug") => "control",
            ("control_supply", "coil_a_lug" | "coil_b_lug") => "control",
            _ => return Vec::new(),
        }
    };
    let about = |limit: &&ServiceLimit| limit.of == of;
    let own: Vec<_> = service_limits().iter().filter(about).filter(|limit| limit.volts == nominal).collect();
    if own.is_empty() { service_limits().iter().filter(about).collect() } else { own }
}
