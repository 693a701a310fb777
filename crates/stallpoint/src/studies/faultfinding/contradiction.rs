//! Readings that do not go together.

use super::finder::{FaultFinder, Reading, normalised};

/// Readings that no fault explains, with the one that is most likely wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Contradiction {
    /// Index of the reading that is most likely wrong.
    pub suspect: usize,
    /// That reading.
    pub reading: Reading,
    /// How many times more likely all the others are without it, as a power of ten.
    pub decades: f64,
    /// In words.
    pub words: String,
}

/// Deviations off the best case from which a reading does not fit it.
const OFF: f64 = 4.0;
/// Powers of ten by which leaving a reading out must raise the rest.
const DECADES: f64 = 1.0;

impl FaultFinder {
    /// Whether the readings contradict each other, and which is most likely wrong: the one without which the others fit best.
    ///
    /// They do where no case with any weight is within four deviations of every reading. Two faults at once contradict too:
    /// check the suspect reading again; if it stands, there are two faults.
    pub fn contradiction(&self) -> Option<Contradiction> {
        let columns: Vec<_> = self.readings.iter().map(|r| self.columns.get(&r.measurement).cloned()).collect();
        let columns = columns.into_iter().collect::<Option<Vec<_>>>()?;
        let weights = normalised(&self.log_weights);
        let worst = |case: usize| {
            let off = columns.iter().zip(&self.readings).map(|(column, r)| column.off(case, r.code).abs());
            off.fold(0.0, f64::max)
        };
        let fits = (0..weights.len()).any(|case| weights[case] > 1e-3 && worst(case) < OFF);
        if fits || self.readings.len() < 2 {
            return None;
        }
        // Evidence of the other readings, against the evidence of all over that of a blunder.
        let evidence = |left_out: usize| {
            let own = &columns[left_out];
            let code = self.readings[left_out].code;
            let logs: Vec<f64> =
                self.log_weights.iter().enumerate().map(|(c, w)| w - own.likelihood(c, code).ln()).collect();
            log_sum(&logs)
        };
        let all = log_sum(&self.log_weights);
        let (suspect, without) =
            (0..columns.len()).map(|index| (index, evidence(index))).max_by(|a, b| a.1.total_cmp(&b.1))?;
        let decades = (without - all) / std::f64::consts::LN_10;
        if decades < DECADES {
            return None;
        }
        let reading = self.readings[suspect].clone();
        let unit = reading.measurement.tool.unit();
        let words = format!(
            "The readings contradict each other: check \"{}\" ({} {unit}) again; if it stands, there are two faults.",
            reading.measurement, reading.observed
        );
        Some(Contradiction { suspect, reading, decades, words })
    }
}

fn log_sum(logs: &[f64]) -> f64 {
    let largest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    largest + logs.iter().map(|log| (log - largest).exp()).sum::<f64>().ln()
}
