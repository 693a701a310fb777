//! Trip band of a breaker: its fastest and slowest time–current curves.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::gate_check::{GateCheck, check_gates};
use super::inverse_time_band::InverseTimeBand;
use super::thermal_band::ThermalBand;
use super::trip_curve::TripCurve;
use super::trip_points::TripPoints;
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity, Time};
use crate::tables::inverse_time::InverseTimeCurve;
use crate::tables::trip_gates::Gate;

/// The band between the fastest and the slowest trip curve: multiples of the rated current to seconds.
///
/// A device sits at a `position` in it, 0 on the fastest curve and 1 on the slowest, between them in the logarithm of
/// time: `t = t_fast^(1-p) t_slow^p`. Where only the fastest curve trips, only position 0 trips.
///
/// In a file it is one of
/// ```toml
/// trip_band.points = { fastest = [[1.1, 900.0], [2.0, 20.0], [6.0, 1.0]], slowest = [[1.4, 3600.0], [2.0, 60.0], [6.0, 3.0]] }
/// trip_band.inverse_time = { curve = "iec_very_inverse", time_multiplier = 0.5, tolerance = "10 %" }
/// trip_band.thermal = { pick_up = 1.2, time_constant = "90 s", tolerance = "20 %" }
/// ```
///
/// # Example
/// ```
/// use stallpoint::parts::TripBand;
///
/// let band = TripBand::points([[1.1, 900.0], [2.0, 20.0]], [[1.4, 3600.0], [2.0, 80.0]])?;
/// assert_eq!(band.time(0.0, 2.0), Some(20.0));
/// assert!((band.time(0.5, 2.0).unwrap() - 40.0).abs() < 1e-9); // half way on log paper
/// assert_eq!(band.time(1.0, 4.0), Some(20.0)); // beyond the last row as 1/M²
/// assert_eq!(band.time(0.5, 1.2), None);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TripBand {
    /// Two curves by their points, as read off a data sheet.
    Points(TripPoints),
    /// A standard inverse-time curve with a tolerance.
    InverseTime(InverseTimeBand),
    /// A thermal replica whose constants are given.
    Thermal(ThermalBand),
}

impl TripBand {
    /// A band from the points of its two curves.
    ///
    /// # Errors
    /// Multiples that do not rise, times that rise, a slowest curve below the fastest.
    pub fn points(fastest: impl Into<Vec<[f64; 2]>>, slowest: impl Into<Vec<[f64; 2]>>) -> Result<Self, Error> {
        let band = Self::Points(TripPoints { fastest: fastest.into(), slowest: slowest.into() });
        band.check()?;
        Ok(band)
    }

    /// A band around a standard curve.
    ///
    /// # Errors
    /// A time multiplier that is not above zero; a tolerance outside 0 to 1.
    pub fn inverse_time(
        curve: InverseTimeCurve,
        time_multiplier: f64,
        tolerance: impl IntoQuantity<Fraction>,
    ) -> Result<Self, Error> {
        let tolerance = crate::parts::quantity("tolerance", tolerance)?;
        let band = Self::InverseTime(InverseTimeBand { curve, time_multiplier, tolerance });
        band.check()?;
        Ok(band)
    }

    /// A thermal replica after IEC 60255-149 that settles at the trip heat at `pick_up` times the rated current.
    ///
    /// # Errors
    /// A pick-up or a time constant that is not above zero; a tolerance outside 0 to 1.
    pub fn thermal(
        pick_up: f64,
        time_constant: impl IntoQuantity<Time>,
        tolerance: impl IntoQuantity<Fraction>,
    ) -> Result<Self, Error> {
        let time_constant = crate::parts::quantity("time_constant", time_constant)?;
        let tolerance = crate::parts::quantity("tolerance", tolerance)?;
        let band = Self::Thermal(ThermalBand { pick_up, time_constant, tolerance });
        band.check()?;
        Ok(band)
    }

    /// Trip time in s of a device at `position` (0 fastest to 1 slowest) that starts cold, under a steady current of
    /// `multiple` times the rated one; `None` when it never trips.
    pub fn time(&self, position: f64, multiple: f64) -> Option<f64> {
        match self {
            Self::Points(points) => points.time_and_slope(position, multiple).map(|(time, _)| time),
            Self::InverseTime(band) => band.time(position, multiple),
            Self::Thermal(band) => band.time(position, multiple),
        }
    }

    /// The multiple of the rated current at which a device at `position` begins to trip.
    pub fn pick_up(&self, position: f64) -> f64 {
        match self {
            Self::Points(points) => points.pick_up(position),
            Self::InverseTime(_) => 1.0,
            Self::Thermal(band) => band.pick_up,
        }
    }

    /// Holds both edges against a standard's gates, each device starting cold: the fastest must not trip before a gate's
    /// `holds_for`, the slowest must trip by its `trips_within`.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::TripBand;
    /// use stallpoint::tables::trip_gates::ul_489;
    ///
    /// let band = TripBand::points([[1.1, 900.0], [2.0, 20.0]], [[1.4, 3600.0], [2.0, 80.0]])?;
    /// let checks = band.meets(&ul_489(30.0));
    /// assert_eq!(checks.iter().map(|check| check.holds).collect::<Vec<_>>(), [true, false, true]);
    /// assert_eq!(
    ///     checks[1].to_string(),
    ///     "UL 489: at 1.35 times the rated current the slowest device never trips; it must within 3600 s"
    /// );
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn meets(&self, gates: &[Gate]) -> Vec<GateCheck> {
        check_gates(gates, |position, multiple| self.time(position, multiple))
    }

    /// The curve of a device at `position`, made ready for many evaluations.
    pub(super) fn curve(&self, position: f64) -> TripCurve {
        match self {
            Self::Points(points) => points.curve(position),
            Self::InverseTime(band) => band.trip_curve(position),
            Self::Thermal(band) => band.trip_curve(position),
        }
    }

    /// Refuses a band that is none.
    ///
    /// # Errors
    /// Names the curve, the row and what is wrong with it.
    pub fn check(&self) -> Result<(), PartError> {
        match self {
            Self::Points(points) => points.check(),
            Self::InverseTime(band) => band.check(),
            Self::Thermal(band) => band.check(),
        }
    }
}
