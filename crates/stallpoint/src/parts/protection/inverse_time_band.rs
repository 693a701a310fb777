//! A trip band around a standard inverse-time curve.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::trip_curve::TripCurve;
use crate::error::PartError;
use crate::quantity::Fraction;
use crate::tables::inverse_time::{InverseTimeConstants, InverseTimeCurve};

/// A standard inverse-time curve: `t = T (A / (M^p - 1) + B) (1 ± tolerance)` above the rated current.
///
/// Source: as for [`InverseTimeCurve`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InverseTimeBand {
    /// The curve.
    pub curve: InverseTimeCurve,
    /// Time multiplier `T`.
    #[serde(default = "one")]
    pub time_multiplier: f64,
    /// Relative tolerance of the time: fastest and slowest lie that far below and above.
    #[serde(default)]
    pub tolerance: Fraction,
}

fn one() -> f64 {
    1.0
}

impl InverseTimeBand {
    /// What the position makes of the curve's time.
    fn factor(&self, position: f64) -> f64 {
        let (p, tolerance) = (position.clamp(0.0, 1.0), self.tolerance.si());
        (1.0 - tolerance).powf(1.0 - p) * (1.0 + tolerance).powf(p)
    }

    /// Trip time, s.
    pub(super) fn time(&self, position: f64, multiple: f64) -> Option<f64> {
        Some(self.factor(position) * self.curve.time(multiple, self.time_multiplier)?)
    }

    /// The curve of a device at `position`.
    pub(super) fn trip_curve(&self, position: f64) -> TripCurve {
        let InverseTimeConstants { a_s, b_s, p } = self.curve.constants();
        let scale = self.time_multiplier * self.factor(position);
        TripCurve::Inverse { a: scale * a_s, b: scale * b_s, p }
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        let (multiplier, tolerance) = (self.time_multiplier, self.tolerance);
        if !(multiplier > 0.0 && multiplier.is_finite()) {
            return Err(PartError::range("trip_band.time_multiplier", multiplier, "above 0"));
        }
        let fits = (0.0..1.0).contains(&tolerance.si());
        crate::parts::in_range("trip_band.tolerance", tolerance, fits, "at least 0 and below 1")
    }
}
