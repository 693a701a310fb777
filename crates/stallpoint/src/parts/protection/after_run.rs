//! A breaker's integrals over a current that is already known.

use super::breaker::Breaker;
use super::trip_curve::TripCurve;

/// What an integral did over a current: its largest value and its last.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accumulated {
    /// Largest value; at 1 the device opens.
    pub largest: f64,
    /// Value at the end.
    pub last: f64,
}

impl Breaker {
    /// The accumulated trip fraction of a device at `position` (0 fastest to 1 slowest) over a current that is known
    /// beforehand: straight lines between points of `time` in s and `current` in A. It begins at `from` and goes on
    /// past 1 as if the device stayed closed.
    ///
    /// As the integral of a run, see [`Breaker`]; heating is integrated by Gauss' rule with two points on each line, cut
    /// where it crosses the pick-up, and cooling exactly.
    ///
    /// Limits: differs from a run's integral by how far the lines are from the current.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::{Breaker, TripBand};
    ///
    /// let band = TripBand::points([[1.1, 900.0], [2.0, 20.0]], [[1.4, 3600.0], [2.0, 80.0]])?;
    /// let breaker = Breaker::new("50 A", band)?;
    /// let half_way = breaker.accumulate(0.0, &[0.0, 10.0], &[100.0, 100.0], 0.0);
    /// assert!((half_way.largest - 0.5).abs() < 1e-12); // 10 s of the 20 s at twice the rated current
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn accumulate(&self, position: f64, time: &[f64], current: &[f64], from: f64) -> Accumulated {
        let curve = self.trip_band.curve(position);
        let per_ampere = 1.0 / self.rated_at_ambient();
        let cooling = 1.0 / self.cooling_time_constant.si();
        let mut a = from;
        let mut largest = from;
        for (t, i) in time.windows(2).zip(current.windows(2)) {
            let (length, first, last) = (t[1] - t[0], i[0] * per_ampere, i[1] * per_ampere);
            if !(length > 0.0) {
                continue;
            }
            match &curve {
                TripCurve::Thermal { over_k_squared, over_time_constant } => {
                    // First-order response to the mean of the square over the line.
                    let settled = over_k_squared * (first * first + first * last + last * last) / 3.0;
                    a = settled + (a - settled) * (-length * over_time_constant).exp();
                }
                curve => {
                    let pick_up = curve.pick_up().unwrap_or(0.0);
                    match (first > pick_up, last > pick_up) {
                        (false, false) => a *= (-length * cooling).exp(),
                        (true, true) => a += heating(curve, length, first, last),
                        (up_first, _) => {
                            let share = ((pick_up - first) / (last - first)).clamp(0.0, 1.0);
                            let (before, after) = (share * length, (1.0 - share) * length);
                            if up_first {
                                a += heating(curve, before, first, pick_up);
                                largest = largest.max(a);
                                a *= (-after * cooling).exp();
                            } else {
                                a *= (-before * cooling).exp();
                                a += heating(curve, after, pick_up, last);
                            }
                        }
                    }
                }
            }
            largest = largest.max(a);
        }
        if self.operates_magnetically(position, time, current) {
            (a, largest) = (a.max(1.0), largest.max(1.0));
        }
        Accumulated { largest, last: a }
    }

    /// Whether the magnetic element sees its multiple for as long as it needs.
    fn operates_magnetically(&self, position: f64, time: &[f64], current: &[f64]) -> bool {
        let Some(element) = &self.magnetic else { return false };
        let level = element.multiple(position) * self.rated_current.si();
        let mut since: Option<f64> = None;
        for k in 0..time.len() {
            let crossing = |k: usize| {
                let (i, j) = (current[k - 1], current[k]);
                if i == j { time[k] } else { time[k - 1] + (time[k] - time[k - 1]) * ((level - i) / (j - i)) }
            };
            match (since, current[k] > level) {
                (None, true) => since = Some(if k == 0 { time[0] } else { crossing(k) }),
                (Some(from), true) if time[k] - from >= element.operating_time.si() => return true,
                (Some(from), false) => {
                    if crossing(k) - from >= element.operating_time.si() {
                        return true;
                    }
                    since = None;
                }
                _ => {}
            }
        }
        false
    }
}

/// ∫ 1/t over a line between two multiples that are above the pick-up.
fn heating(curve: &TripCurve, length: f64, first: f64, last: f64) -> f64 {
    let (middle, half) = (0.5 * (first + last), 0.5 * (last - first));
    let rate = |multiple: f64| curve.rate(multiple, multiple.ln()).0;
    if half == 0.0 {
        return length * rate(middle);
    }
    let offset = half / 3.0_f64.sqrt();
    0.5 * length * (rate(middle - offset) + rate(middle + offset))
}
