//! A trip band by the points of its two curves.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::trip_curve::{Line, TripCurve};
use crate::error::PartError;
use crate::tables::trip_gates::Gate;

/// How far inside its gates a band made from them lies, in multiples and in times: far above the error of a run, far below
/// what matters.
pub(super) const INSIDE: f64 = 1e-3;

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

impl TripPoints {
    /// The widest band that keeps these gates: the fastest curve through those that must hold, the slowest through those
    /// that must trip.
    pub(super) fn on_gates(gates: &[Gate]) -> Self {
        let inside = |side: f64, time: fn(&Gate) -> Option<f64>| {
            let factor = 1.0 + side * INSIDE;
            let limits = gates.iter().filter_map(|gate| time(gate).map(|time| [gate.multiple * factor, time * factor]));
            limits.filter(|row| row[1].is_finite()).collect()
        };
        Self { fastest: inside(1.0, |gate| gate.holds_for), slowest: inside(-1.0, |gate| gate.trips_within) }
    }

    /// Lowest multiple at which a device at `position` trips.
    pub(super) fn pick_up(&self, position: f64) -> f64 {
        let rows = if position <= 0.0 { &self.fastest } else { &self.slowest };
        rows.first().map_or(f64::INFINITY, |row| row[0])
    }

    /// The curve of a device at `position`, straight on log-log paper between the rows of the two.
    pub(super) fn curve(&self, position: f64) -> TripCurve {
        let pick_up = self.pick_up(position);
        let mut from: Vec<f64> = self.fastest.iter().chain(&self.slowest).map(|row| row[0]).collect();
        from.retain(|&multiple| multiple >= pick_up);
        from.sort_unstable_by(f64::total_cmp);
        from.dedup();
        let line = |&multiple: &f64| {
            let (time, slope) = self.time_and_slope(position, multiple)?;
            Some(Line { from: multiple, power: -slope, at_one: slope * multiple.ln() - time.ln() })
        };
        TripCurve::Lines { pick_up, lines: from.iter().filter_map(line).collect() }
    }

    /// Time and `d ln t / d ln M`.
    pub(super) fn time_and_slope(&self, position: f64, multiple: f64) -> Option<(f64, f64)> {
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

    pub(super) fn check(&self) -> Result<(), PartError> {
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
