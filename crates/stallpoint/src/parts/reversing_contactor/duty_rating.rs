//! What a contactor's data sheet says of time and heat.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::{above_zero, in_range};
use crate::error::PartError;
use crate::quantity::{Fraction, HeatCapacity, Temperature, ThermalResistance, Time};

/// A contactor's limits of time and heat. There are no defaults: what is left out is "not checked" by the duty study.
///
/// Limits: the current path is one body whose rise at the carrying current is its limit; each coil is one body.
///
/// # Example
/// ```
/// use stallpoint::parts::DutyRating;
///
/// let rating = DutyRating {
///     longest_on_time: Some("30 s".parse()?),
///     duty_factor: Some("25 %".parse()?),
///     ..DutyRating::default()
/// };
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct DutyRating {
    /// Longest time it may be energised at a stretch, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest_on_time: Option<Time>,
    /// Largest share of a cycle for which it may be energised.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty_factor: Option<Fraction>,
    /// Thermal time constant of the current path, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contact_time_constant: Option<Time>,
    /// Heat capacity of each coil, J/K.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coil_heat_capacity: Option<HeatCapacity>,
    /// Thermal resistance of each coil to ambient, K/W.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coil_thermal_resistance: Option<ThermalResistance>,
    /// Highest temperature of a coil, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_coil_temperature_c: Option<Temperature>,
}

impl DutyRating {
    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        if let Some(time) = self.longest_on_time {
            above_zero("duty_rating.longest_on_time", time)?;
        }
        if let Some(share) = self.duty_factor {
            let holds = share.si() > 0.0 && share.si() <= 1.0;
            in_range("duty_rating.duty_factor", share, holds, "above 0, up to 1")?;
        }
        if let Some(time) = self.contact_time_constant {
            above_zero("duty_rating.contact_time_constant", time)?;
        }
        if let Some(capacity) = self.coil_heat_capacity {
            above_zero("duty_rating.coil_heat_capacity", capacity)?;
        }
        if let Some(resistance) = self.coil_thermal_resistance {
            above_zero("duty_rating.coil_thermal_resistance", resistance)?;
        }
        match self.max_coil_temperature_c {
            Some(t) => {
                let holds = t.si() > -100.0 && t.si() < 400.0;
                in_range("duty_rating.max_coil_temperature_c", t, holds, "between -100 degC and 400 degC")
            }
            None => Ok(()),
        }
    }
}
