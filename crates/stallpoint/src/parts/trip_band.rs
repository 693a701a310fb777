//! Trip band of a breaker: its fastest and slowest time–current curves.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity};
use crate::tables::inverse_time::{InverseTimeConstants, InverseTimeCurve};

/// The band between the fastest and the slowest trip curve: multiples of the rated current to seconds.
///
/// A device sits at a `position` in it, 0 on the fastest curve and 1 on the slowest, between them in the logarithm of
/// time: `t = t_fast^(1-p) t_slow^p`. Where only the fastest curve trips, only position 0 trips.
///
/// In a file it is either of
/// ```toml
/// trip_band.points = { fastest = [[1.1, 900.0], [2.0, 20.0], [6.0, 1.0]], slowest = [[1.4, 3600.0], [2.0, 60.0], [6.0, 3.0]] }
/// trip_band.inverse_time = { curve = "iec_very_inverse", time_multiplier = 0.5, tolerance = "10 %" }
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
}

/// Two curves by points: rows of [multiple of the rated current, seconds], multiples rising, times not rising.
///
/// Straight lines between the rows on log–log paper; beyond the last row `t ∝ 1/M²`, as heat without loss has it; below the
/// first row no trip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TripPoints {
    /// The fastest device of its kind.
    pub fastest: Vec<[f64; 2]>,
    /// The slowest device of its kind.
    pub slowest: Vec<[f64; 2]>,
}

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
        let tolerance = super::quantity("tolerance", tolerance)?;
        let band = Self::InverseTime(InverseTimeBand { curve, time_multiplier, tolerance });
        band.check()?;
        Ok(band)
    }

    /// Trip time in s of a device at `position` (0 fastest to 1 slowest) under a steady current of `multiple` times the
    /// rated one; `None` when it never trips.
    pub fn time(&self, position: f64, multiple: f64) -> Option<f64> {
        match self {
            Self::Points(points) => points.time_and_slope(position, multiple).map(|(time, _)| time),
            Self::InverseTime(band) => Some(band.factor(position) * band.curve.time(multiple, band.time_multiplier)?),
        }
    }

    /// The multiple of the rated current at which a device at `position` begins to trip.
    pub fn pick_up(&self, position: f64) -> f64 {
        match self {
            Self::Points(points) if position <= 0.0 => points.fastest[0][0],
            Self::Points(points) => points.slowest[0][0],
            Self::InverseTime(_) => 1.0,
        }
    }

    /// `1 / time` and its derivative by the multiple, 1/s. Below the pick-up it stays at its value there.
    pub(crate) fn rate(&self, position: f64, multiple: f64) -> (f64, f64) {
        let pick_up = self.pick_up(position);
        let m = multiple.max(pick_up);
        let (rate, slope) = match self {
            Self::Points(points) => match points.time_and_slope(position, m) {
                Some((time, slope)) => (1.0 / time, -slope / (time * m)),
                None => (0.0, 0.0),
            },
            Self::InverseTime(band) => band.rate(position, m),
        };
        (rate, if multiple < pick_up { 0.0 } else { slope })
    }

    /// Refuses a band that is none.
    ///
    /// # Errors
    /// Names the curve, the row and what is wrong with it.
    pub fn check(&self) -> Result<(), PartError> {
        match self {
            Self::Points(points) => points.check(),
            Self::InverseTime(band) => band.check(),
        }
    }
}

impl TripPoints {
    /// Time and `d ln t / d ln M`.
    fn time_and_slope(&self, position: f64, multiple: f64) -> Option<(f64, f64)> {
        if position <= 0.0 {
            return on_curve(&self.fastest, multiple);
        }
        let slowest = on_curve(&self.slowest, multiple)?;
        if position >= 1.0 {
            return Some(slowest);
        }
        let fastest = on_curve(&self.fastest, multiple)?;
        let mix = |fast: f64, slow: f64| fast + position * (slow - fast);
        Some((mix(fastest.0.ln(), slowest.0.ln()).exp(), mix(fastest.1, slowest.1)))
    }

    fn check(&self) -> Result<(), PartError> {
        for (name, rows) in [("fastest", &self.fastest), ("slowest", &self.slowest)] {
            check_rows(name, rows)?;
        }
        // Both curves are straight on log-log paper, so they can cross only if one is on the wrong side at a row.
        for &[multiple, _] in self.fastest.iter().chain(&self.slowest) {
            let (fast, slow) = (on_curve(&self.fastest, multiple), on_curve(&self.slowest, multiple));
            let problem = match (fast, slow) {
                (Some((fast, _)), Some((slow, _))) if slow < fast * (1.0 - 1e-9) => {
                    format!("trips in {slow} s and the fastest in {fast} s")
                }
                (None, Some((slow, _))) => format!("trips in {slow} s and the fastest never"),
                _ => continue,
            };
            return Err(PartError::Description {
                problem: format!("`trip_band`: at {multiple} times the rated current the slowest curve {problem}"),
                advice: "exchange the two curves or correct their rows".into(),
            });
        }
        Ok(())
    }
}

fn check_rows(name: &str, rows: &[[f64; 2]]) -> Result<(), PartError> {
    let wrong = |problem: String, advice: &str| {
        Err(PartError::Description { problem: format!("`trip_band.{name}` {problem}"), advice: advice.into() })
    };
    if rows.is_empty() {
        return wrong("has no row".into(), "give rows of [multiple of the rated current, seconds]");
    }
    for (k, row) in rows.iter().enumerate() {
        let [multiple, time] = row;
        if !(*multiple > 0.0 && *time > 0.0 && multiple.is_finite() && time.is_finite()) {
            return wrong(format!("has [{multiple}, {time}] in row {}", k + 1), "both numbers must be above zero");
        }
        let Some([before, time_before]) = k.checked_sub(1).map(|k| rows[k]) else { continue };
        if *multiple <= before {
            let problem = format!("has multiple {multiple} in row {} after {before}", k + 1);
            return wrong(problem, "order the rows by rising multiples");
        }
        if *time > time_before {
            let problem = format!("has {time} s in row {} after {time_before} s", k + 1);
            return wrong(problem, "a larger current may not take longer");
        }
    }
    Ok(())
}

/// Time and `d ln t / d ln M` on one curve.
fn on_curve(rows: &[[f64; 2]], multiple: f64) -> Option<(f64, f64)> {
    let above = rows.partition_point(|[m, _]| *m <= multiple);
    let [m0, t0] = rows[above.checked_sub(1)?];
    let slope = match rows.get(above) {
        Some([m1, t1]) => (t1 / t0).ln() / (m1 / m0).ln(),
        None => -2.0,
    };
    Some((t0 * (multiple / m0).powf(slope), slope))
}

impl InverseTimeBand {
    /// What the position makes of the curve's time.
    fn factor(&self, position: f64) -> f64 {
        let (p, tolerance) = (position.clamp(0.0, 1.0), self.tolerance.si());
        (1.0 - tolerance).powf(1.0 - p) * (1.0 + tolerance).powf(p)
    }

    /// `1 / time` and its derivative by the multiple, written so that both are finite at the pick-up.
    fn rate(&self, position: f64, multiple: f64) -> (f64, f64) {
        let InverseTimeConstants { a_s, b_s, p } = self.curve.constants();
        let scale = self.time_multiplier * self.factor(position);
        let excess = (p * multiple.ln()).exp_m1();
        let denominator = a_s + b_s * excess;
        let slope = a_s * p * (excess + 1.0) / (scale * denominator * denominator * multiple);
        (excess / (scale * denominator), slope)
    }

    fn check(&self) -> Result<(), PartError> {
        let (multiplier, tolerance) = (self.time_multiplier, self.tolerance);
        if !(multiplier > 0.0 && multiplier.is_finite()) {
            return Err(PartError::range("trip_band.time_multiplier", multiplier, "above 0"));
        }
        let fits = (0.0..1.0).contains(&tolerance.si());
        super::in_range("trip_band.tolerance", tolerance, fits, "at least 0 and below 1")
    }
}
