//! What one measurement shows in every case of a table, and how likely a reading is in each.

use super::measurement::Tool;
use super::table::FaultTable;
use super::{Measurement, Observed};
use crate::error::Error;

/// A measurement's reading in every case.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) tool: Tool,
    /// As a number to compare; NaN where a case could not be solved.
    pub(super) shown: Vec<f64>,
    /// Deviation of a reading about it: the meter's, and the gaps between the drawn cases.
    pub(super) deviation: Vec<f64>,
    /// How often each word is shown among the cases drawn of the same fault and severity, by case; empty for numbers.
    shares: Vec<[f64; MOST_WORDS]>,
    /// The largest number shown in any case, of either sign.
    pub(super) largest: f64,
    /// Range over which a wrong reading may fall.
    range: f64,
}

/// Share of readings that are taken wrongly, whatever the circuit (typical, no source): a probe on the wrong stud, a slip of
/// the pen.
const BLUNDER: f64 = 0.004;
/// The same for whether and which way a motor turns: nobody takes a motor that stands for one that runs.
const SEEN_WRONG: f64 = 1e-4;
/// Chance that a word is the neighbouring one: bright or dim, slow or not is a matter of taste; a click is not.
const NEIGHBOUR: f64 = 0.05;
/// Deviations that such a word is off.
const TASTE: f64 = 1.5;
/// Weight of the words of the other cases drawn of a fault: where some stand and some turn, so may one between them. It is to
/// words what the gap between the drawn cases is to numbers (typical, no source).
const BETWEEN: f64 = 0.2;
/// No instrument has more words.
const MOST_WORDS: usize = 5;
/// Code of the word for a motor that stands: between the directions.
const STANDS: f64 = 2.0;

impl Column {
    pub(super) fn of(table: &FaultTable, measurement: &Measurement) -> Result<Self, Error> {
        let placed = table.bench.place(measurement)?;
        let tool = measurement.tool;
        let shown: Vec<f64> = table.cases.iter().map(|case| case.shows(&placed, &table.bench)).collect();
        let mut deviation = vec![0.0; shown.len()];
        if tool.words().is_empty() {
            for hypothesis in &table.hypotheses {
                let own = &shown[hypothesis.cases.clone()];
                let gap = bandwidth(own.len()) * spread(own);
                for case in hypothesis.cases.clone() {
                    let meter = tool.deviation(shown[case]);
                    deviation[case] = (meter * meter + gap * gap).sqrt();
                }
            }
        }
        let mut shares = Vec::new();
        if !tool.words().is_empty() {
            shares = vec![[0.0; MOST_WORDS]; shown.len()];
            for hypothesis in &table.hypotheses {
                let mut own = [0.0; MOST_WORDS];
                let known = shown[hypothesis.cases.clone()].iter().filter(|word| !word.is_nan());
                let each = 1.0 / (known.clone().count().max(1) as f64);
                known.for_each(|word| own[*word as usize] += each);
                shares[hypothesis.cases.clone()].fill(own);
            }
        }
        let range = match tool {
            Tool::Clamp => 500.0,
            Tool::Ohmmeter => 40.0,
            _ => 2.5 * table.bench.nominal,
        };
        let largest =
            shown.iter().filter(|shown| shown.is_finite()).fold(0.0, |most: f64, shown| most.max(shown.abs()));
        Ok(Self { tool, shown, deviation, shares, largest, range })
    }

    /// Density (or chance) of a reading in a case.
    pub(super) fn likelihood(&self, case: usize, code: f64) -> f64 {
        let shown = self.shown[case];
        let words = self.tool.words().len();
        if words > 0 {
            let even = 1.0 / words as f64;
            if shown.is_nan() {
                return even;
            }
            let fuzzy = self.mistakable(code, shown);
            let wrong = if self.tool == Tool::WatchMotor { SEEN_WRONG } else { BLUNDER };
            let mistakable = self.tool == Tool::TestLamp || self.tool == Tool::WatchMotor && shown != STANDS;
            let neighbour = if mistakable { NEIGHBOUR } else { 0.0 };
            let sound = match (code - shown).abs() {
                off if off < 0.5 => 1.0 - neighbour,
                off if off < 1.5 && fuzzy => 0.5 * neighbour,
                _ => 0.0,
            };
            let sound = (1.0 - BETWEEN) * sound + BETWEEN * self.shares[case][code as usize];
            return (1.0 - wrong) * sound + wrong * even;
        }
        let blunder = 1.0 / self.range;
        if shown.is_nan() {
            return blunder;
        }
        let z = (code - shown) / self.deviation[case];
        let bell = (-0.5 * z * z).exp() / (self.deviation[case] * SQRT_TAU);
        (1.0 - BLUNDER) * bell + BLUNDER * blunder
    }

    /// Whether a word may be said for another: bright or dim, slow or not; never whether it turns, nor which way.
    fn mistakable(&self, code: f64, shown: f64) -> bool {
        match self.tool {
            Tool::TestLamp => true,
            Tool::WatchMotor => (code - STANDS) * (shown - STANDS) > 0.5,
            _ => false,
        }
    }

    /// How many deviations a reading is off what a case shows.
    pub(super) fn off(&self, case: usize, code: f64) -> f64 {
        let shown = self.shown[case];
        if shown.is_nan() {
            return 0.0;
        }
        if self.tool.words().is_empty() {
            (code - shown) / self.deviation[case]
        } else if (code - shown).abs() < 0.5 {
            0.0
        } else if self.tool == Tool::WatchMotor && self.mistakable(code, shown) {
            TASTE
        } else {
            4.0 * (code - shown)
        }
    }

    /// The reading that is shown in a case.
    pub(super) fn observed(&self, case: usize) -> Observed {
        self.tool.observed(self.shown[case])
    }
}

const SQRT_TAU: f64 = 2.506_628_274_631_000_5;

/// Width of a bell that bridges the gaps between `n` draws, in their deviations (B. W. Silverman, Density Estimation, 1986).
fn bandwidth(n: usize) -> f64 {
    (4.0 / (3.0 * n as f64)).powf(0.2)
}

/// Deviation of a sample.
fn spread(values: &[f64]) -> f64 {
    let known: Vec<f64> = values.iter().copied().filter(|value| value.is_finite()).collect();
    let n = known.len();
    if n < 2 {
        return 0.0;
    }
    let mean = known.iter().sum::<f64>() / n as f64;
    (known.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1) as f64).sqrt()
}
