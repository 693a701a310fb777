//! A thermal replica as a trip band.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::trip_curve::TripCurve;
use crate::error::PartError;
use crate::quantity::{Fraction, Time};

/// A first-order thermal replica: heated by the square of the current, cooled with one time constant.
///
/// ```text
/// τ dA/dt = (M / k)² - A        trips at A = 1
/// t = τ ln((M² - A₀ k²) / (M² - k²))   from the heat A₀ = (M₀/k)² that an earlier current M₀ left
/// ```
///
/// Unlike the other bands it integrates at every current, so an earlier load counts. Fastest and slowest differ in `τ`, by
/// the tolerance below and above. There are no default constants: use a data sheet's.
///
/// Limits: [`TripBand::time`](super::TripBand::time) and the studies that use it know the cold curve alone.
///
/// Source: IEC 60255-149, cold and hot curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThermalBand {
    /// `k`: the multiple of the rated current that just does not trip.
    pub pick_up: f64,
    /// Time constant `τ`, s.
    pub time_constant: Time,
    /// Relative tolerance of `τ`.
    #[serde(default)]
    pub tolerance: Fraction,
}

impl ThermalBand {
    fn time_constant(&self, position: f64) -> f64 {
        let (p, tolerance) = (position.clamp(0.0, 1.0), self.tolerance.si());
        self.time_constant.si() * (1.0 - tolerance).powf(1.0 - p) * (1.0 + tolerance).powf(p)
    }

    /// Trip time from cold, s.
    pub(super) fn time(&self, position: f64, multiple: f64) -> Option<f64> {
        let settled = (multiple / self.pick_up).powi(2);
        (settled > 1.0).then(|| -self.time_constant(position) * (-1.0 / settled).ln_1p())
    }

    /// Rate and decay of the heat, 1/s.
    pub(super) fn accumulating(&self, position: f64, multiple: f64) -> (f64, f64) {
        let decay = 1.0 / self.time_constant(position);
        (decay * (multiple / self.pick_up).powi(2), decay)
    }

    /// The curve of a device at `position`.
    pub(super) fn trip_curve(&self, position: f64) -> TripCurve {
        TripCurve::Thermal {
            over_k_squared: self.pick_up.powi(-2),
            over_time_constant: 1.0 / self.time_constant(position),
        }
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        if !(self.pick_up > 0.0 && self.pick_up.is_finite()) {
            return Err(PartError::range("trip_band.pick_up", self.pick_up, "above 0"));
        }
        crate::parts::above_zero("trip_band.time_constant", self.time_constant)?;
        let fits = (0.0..1.0).contains(&self.tolerance.si());
        crate::parts::in_range("trip_band.tolerance", self.tolerance, fits, "at least 0 and below 1")
    }
}
