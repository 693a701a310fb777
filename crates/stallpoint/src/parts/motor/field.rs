//! The field winding of a wound motor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::armature::{COPPER, twenty};
use super::magnetisation::Magnetisation;
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, Inductance, IntoQuantity, Resistance, Temperature, Time};

/// A field winding on its poles.
///
/// ```text
/// v = R i + e,   e = dλ/dt = R_d (i - i_m),   R_d = L / τ
/// λ = L (σ i_m + (1 - σ) K(i_m) / K'(0)),   K after the magnetisation curve
/// ```
///
/// `i_m` is the part of the current that magnetises; the rest flows as eddy currents in solid iron, so that a field current
/// that is cut off has somewhere to go. `σ` is the share of the inductance that does not saturate. With a share `u` of the
/// turns left (a tap, shorted turns), `R` becomes `u R`, and `i` in the magnetisation `u i`.
///
/// Limits: constant temperature; one eddy-current path.
///
/// Source: A. E. Fitzgerald et al., Electric Machinery, for the winding; the eddy path is the usual one-loop approximation.
///
/// # Example
/// ```
/// use stallpoint::parts::motor::{Field, Magnetisation};
///
/// let curve = Magnetisation::measured("1000 rpm", [(50.0, 9.0), (100.0, 15.0), (200.0, 19.0)])?;
/// let series = Field::new("8 mohm", "300 uH", curve)?;
/// assert_eq!(series.turns.si(), 1.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Field {
    /// Resistance at 20 °C, ohm.
    pub resistance: Resistance,
    /// Inductance without saturation, H.
    pub inductance: Inductance,
    /// Flux by field current.
    pub magnetisation: Magnetisation,
    /// Share of the turns that carry current: 1 when healthy, less with a tap or shorted turns.
    #[serde(default = "whole")]
    pub turns: Fraction,
    /// Temperature, °C.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
    /// Share `σ` of the inductance that does not saturate (typical, no source).
    #[serde(default = "leakage")]
    pub leakage: Fraction,
    /// Time constant `τ` of the eddy currents in the poles, s (typical, no source).
    #[serde(default = "eddy_time")]
    pub eddy_time: Time,
}

pub(super) fn whole() -> Fraction {
    Fraction::from_si(1.0)
}

fn leakage() -> Fraction {
    Fraction::from_si(0.05) // typical, no source
}

fn eddy_time() -> Time {
    Time::from_si(1e-3) // typical, no source
}

impl Field {
    /// A healthy field at 20 °C.
    ///
    /// # Errors
    /// A wrong unit; a value that is not above zero; a magnetisation that falls.
    pub fn new(
        resistance: impl IntoQuantity<Resistance>,
        inductance: impl IntoQuantity<Inductance>,
        magnetisation: Magnetisation,
    ) -> Result<Self, Error> {
        let field = Self {
            resistance: crate::parts::quantity("resistance", resistance)?,
            inductance: crate::parts::quantity("inductance", inductance)?,
            magnetisation,
            turns: whole(),
            temperature_c: twenty(),
            leakage: leakage(),
            eddy_time: eddy_time(),
        };
        field.check()?;
        Ok(field)
    }

    /// Resistance at its temperature with the turns that are left, ohm.
    pub fn total_resistance(&self) -> f64 {
        hot(self.resistance, self.temperature_c) * self.turns.si()
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range};
        above_zero("resistance", self.resistance)?;
        above_zero("inductance", self.inductance)?;
        in_range("turns", self.turns, self.turns.si() > 0.0 && self.turns.si() <= 1.0, "above 0, up to 1")?;
        let t = self.temperature_c;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")?;
        let leakage = self.leakage;
        in_range("leakage", leakage, leakage.si() > 0.0 && leakage.si() <= 1.0, "above 0, up to 1")?;
        above_zero("eddy_time", self.eddy_time)?;
        self.magnetisation.curve().map(|_| ())
    }
}

/// A copper resistance at a temperature, ohm.
pub(super) fn hot(cold: Resistance, temperature: Temperature) -> f64 {
    cold.si() * (1.0 + COPPER * (temperature.si() - 20.0))
}

/// Puts the name of the table before the argument that an error names.
pub(super) fn inside(table: &str, result: Result<(), PartError>) -> Result<(), PartError> {
    result.map_err(|error| match error {
        PartError::Range { argument, value, allowed } => {
            PartError::Range { argument: format!("{table}.{argument}"), value, allowed }
        }
        other => other,
    })
}
