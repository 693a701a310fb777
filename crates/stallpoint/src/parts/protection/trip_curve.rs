//! One device's trip curve, made ready for many evaluations.

/// The rate at which an accumulated-trip integral grows, over the multiple of the rated current.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum TripCurve {
    /// Straight lines on log-log paper, by rising `from`.
    Lines { pick_up: f64, lines: Vec<Line> },
    /// `t = a / (M^p - 1) + b`.
    Inverse { a: f64, b: f64, p: f64 },
    /// `dA/dt = (M² / k² - A) / τ`, which has no pick-up of its own.
    Thermal { over_k_squared: f64, over_time_constant: f64 },
}

/// `ln(1/t) = at_one + power ln M` from the multiple `from` on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    pub(super) from: f64,
    pub(super) power: f64,
    pub(super) at_one: f64,
}

impl TripCurve {
    /// Where integration begins; none for a curve that always integrates.
    pub(super) fn pick_up(&self) -> Option<f64> {
        match self {
            Self::Lines { pick_up, .. } => Some(*pick_up),
            Self::Inverse { .. } => Some(1.0),
            Self::Thermal { .. } => None,
        }
    }

    /// `1 / t` at `multiple` and its derivative by the multiple, 1/s; below the pick-up it stays at its value there.
    /// `ln_multiple` is given, for the three integrals of a device share it.
    pub(super) fn rate(&self, multiple: f64, ln_multiple: f64) -> (f64, f64) {
        match self {
            Self::Lines { lines, .. } => {
                let at = lines.partition_point(|line| line.from <= multiple);
                match (at.checked_sub(1).map(|k| lines[k]), lines.first()) {
                    (Some(line), _) => {
                        let rate = (line.at_one + line.power * ln_multiple).exp();
                        (rate, line.power * rate / multiple)
                    }
                    (None, Some(first)) => ((first.at_one + first.power * first.from.ln()).exp(), 0.0),
                    (None, None) => (0.0, 0.0),
                }
            }
            Self::Inverse { .. } if multiple <= 1.0 => (0.0, 0.0),
            Self::Inverse { a, b, p } => {
                // M^p - 1 without cancellation; written so that rate and slope are finite at the pick-up.
                let excess = match *p {
                    1.0 => multiple - 1.0,
                    2.0 => (multiple - 1.0) * (multiple + 1.0),
                    p => (p * ln_multiple).exp_m1(),
                };
                let denominator = a + b * excess;
                (excess / denominator, a * p * (excess + 1.0) / (denominator * denominator * multiple))
            }
            Self::Thermal { .. } => (0.0, 0.0),
        }
    }
}
