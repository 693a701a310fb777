//! How a breaker closes again.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Resistance, Voltage};

/// How a breaker closes again after a trip.
///
/// Source: the three types of SAE J553.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Reset {
    /// By hand (type 3): it stays open for the run.
    #[default]
    Manual,
    /// By itself when it has cooled (type 1); it can restart a motor without warning.
    Automatic,
    /// By itself when it has cooled, but a heater across the open contact keeps it hot as long as there is voltage (type 2):
    /// it closes after the supply or the load is taken away.
    Modified,
}

/// The heater across the open contact of a breaker with modified reset.
///
/// ```text
/// τ dA/dt = (v / trip_voltage)² - A   while tripped, v across the open contact
/// ```
///
/// It holds the breaker open above `trip_voltage · √recloses_at`, and passes `v / resistance` through the load.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct HoldingHeater {
    /// Its resistance, ohm (default typical, no source).
    pub resistance: Resistance,
    /// Voltage at which it alone keeps the strip at trip heat, V (default typical, no source).
    pub trip_voltage: Voltage,
}

impl Default for HoldingHeater {
    fn default() -> Self {
        Self { resistance: Resistance::from_si(150.0), trip_voltage: Voltage::from_si(9.0) }
    }
}

impl HoldingHeater {
    pub(super) fn check(&self) -> Result<(), PartError> {
        crate::parts::above_zero("heater.resistance", self.resistance)?;
        crate::parts::above_zero("heater.trip_voltage", self.trip_voltage)
    }
}
