//! A clamp ammeter round a part of a finished run.

use super::reading::Reading;
use crate::circuit::{Circuit, Run};
use crate::error::Error;
use crate::parts::ClampAmmeter;

/// The largest reading in a window, and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The reading, with its sign.
    pub reading: Reading,
    /// When it was reached, s.
    pub at: f64,
}

/// Parts of a step over which the current is taken as straight.
const PIECES: usize = 8;

impl ClampAmmeter {
    /// What it shows round the first terminal of a part at the circuit's operating point, A.
    ///
    /// # Errors
    /// No such part; a circuit without an operating point.
    pub fn read(&self, circuit: &Circuit, part: &str) -> Result<Reading, Error> {
        Ok(amperes(circuit.operating_point()?.current(part)?))
    }

    /// What it shows round the first terminal of a part over a run: times (s) and readings (A). The reading starts at the
    /// run's first current.
    ///
    /// # Errors
    /// No such part.
    pub fn read_run(&self, run: &Run, part: &str) -> Result<(Vec<f64>, Vec<f64>), Error> {
        let (rows, current) = (run.time(), run.current(part)?);
        let steps = (1..rows.len()).filter(|&row| rows[row] > rows[row - 1]);
        let inner: Vec<f64> =
            steps.clone().flat_map(|row| (1..PIECES).map(move |k| within(rows[row - 1], rows[row], k))).collect();
        let mut inner_current = run.sample(&inner)?.current(part)?.into_iter();
        let tau = self.time_constant();
        let mut times: Vec<f64> = rows.first().copied().into_iter().collect();
        let mut shown: Vec<f64> = current.first().copied().into_iter().collect();
        for row in steps {
            let mut from = current[row - 1];
            for k in 1..=PIECES {
                let to = if k == PIECES { current[row] } else { inner_current.next().unwrap_or(from) };
                let y = shown.last().copied().unwrap_or(from);
                times.push(within(rows[row - 1], rows[row], k));
                shown.push(follow(y, from, to, (rows[row] - rows[row - 1]) / PIECES as f64 / tau));
                from = to;
            }
        }
        Ok((times, shown))
    }

    /// The largest reading, of either sign, over its window from a time (s) on.
    ///
    /// # Errors
    /// No such part; a window that holds no part of the run.
    pub fn peak_hold(&self, run: &Run, part: &str, from: f64) -> Result<Peak, Error> {
        let (times, shown) = self.read_run(run, part)?;
        let window = times.iter().zip(&shown).filter(|(t, _)| (from..=from + self.peak_window.si()).contains(*t));
        let largest = window.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        let (&at, &value) =
            largest.ok_or_else(|| Error::option("from", &format!("{from} s"), "a time within the run"))?;
        Ok(Peak { reading: amperes(value), at })
    }
}

fn within(from: f64, to: f64, k: usize) -> f64 {
    if k == PIECES { to } else { from + (to - from) * k as f64 / PIECES as f64 }
}

/// The low-pass's value after `h = Δt/τ` while its input runs straight from `from` to `to`: the exact solution.
fn follow(y: f64, from: f64, to: f64, h: f64) -> f64 {
    let decay = (-h).exp();
    // Mean weight of the slope; its series where the difference would lose its digits.
    let lag = if h < 1e-5 { 0.5 * h - h * h / 6.0 } else { 1.0 - -(-h).exp_m1() / h };
    y * decay + from * (1.0 - decay) + (to - from) * lag
}

fn amperes(value: f64) -> Reading {
    Reading { value, unit: "A", word: None }
}
