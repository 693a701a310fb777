//! What to measure next.

use super::Measurement;
use super::column::Column;
use super::finder::FaultFinder;
use super::places::Cost;
use crate::error::Error;

/// A measurement worth making.
#[derive(Debug, Clone, PartialEq)]
pub struct NextTest {
    /// What to measure.
    pub measurement: Measurement,
    /// What it is expected to tell about which fault it is, bits.
    pub bits: f64,
    /// Its cost.
    pub cost: Cost,
    /// Why it is worth it, in words.
    pub why: String,
    /// What to mind.
    pub caution: String,
}

/// When to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StopRule {
    /// Probability of a fault, or of faults that no measurement tells apart, at which it counts as found.
    pub sure: f64,
    /// Bits below which no measurement is worth making.
    pub least_bits: f64,
}

impl Default for StopRule {
    fn default() -> Self {
        Self { sure: 0.95, least_bits: 0.02 } // our own convention
    }
}

/// Cases whose weight is less than this share of the whole are left out of the expectation.
const COUNTS: f64 = 2e-4;
/// Relative difference of worth within which two measurements are worth the same.
const SAME: f64 = 1e-6;
/// Bins of a reading.
const BINS: usize = 48;

impl FaultFinder {
    /// The measurement that tells most per minute and danger; none when the fault is found or nothing tells more.
    ///
    /// Worth is the expected information about which fault it is (bits: the drop of Shannon's entropy, C. E. Shannon, Bell
    /// Syst. Tech. J. 27 (1948) 379) over minutes times danger.
    ///
    /// # Errors
    /// Only those of the drive's own measurements: none that a user causes.
    pub fn next_test(&mut self, rule: &StopRule) -> Result<Option<NextTest>, Error> {
        let weights = self.weights();
        if self.sure(rule) {
            return Ok(None);
        }
        let Some((measurement, bits)) = self.most_worth(&weights, rule)? else { return Ok(None) };
        let cost = measurement.cost();
        let why = self.why_next(&weights, &measurement, bits)?;
        let caution = measurement.caution_with(self.table.bench.short_circuit);
        Ok(Some(NextTest { measurement, bits, cost, why, caution }))
    }

    fn most_worth(&mut self, weights: &[f64], rule: &StopRule) -> Result<Option<(Measurement, f64)>, Error> {
        let candidates = self.candidate_columns()?;
        let made: Vec<&Measurement> = self.readings.iter().map(|reading| &reading.measurement).collect();
        let counted = self.counted(weights);
        let worth = candidates.iter().filter(|(m, _)| !made.contains(&m)).map(|(measurement, column)| {
            let bits = information(column, &counted);
            (measurement, bits, bits / measurement.cost().weighed())
        });
        // Of measurements that are worth the same, the first in the order of common practice, whatever rounding says.
        let best = worth
            .filter(|(_, bits, _)| *bits >= rule.least_bits)
            .reduce(|best, next| if next.2 > best.2 * (1.0 + SAME) { next } else { best });
        Ok(best.map(|(measurement, bits, _)| (measurement.clone(), bits)))
    }

    /// Cases that count, with the group of faults that each belongs to and its weight.
    pub(super) fn counted(&self, weights: &[f64]) -> Vec<(usize, usize, f64)> {
        let fault = |case: usize| self.table.twins.leader(self.table.kind(case));
        (0..weights.len()).filter(|&case| weights[case] > COUNTS).map(|c| (c, fault(c), weights[c])).collect()
    }

    /// Expected information of a measurement now, bits.
    ///
    /// # Errors
    /// No such point.
    pub fn expected_bits(&mut self, measurement: &Measurement) -> Result<f64, Error> {
        let counted = self.counted(&self.weights());
        Ok(information(&*self.column(measurement)?, &counted))
    }
}

/// Expected information of a column about which fault it is: `Σ_r P(r) [H(fault) - H(fault | r)]`.
pub(super) fn information(column: &Column, counted: &[(usize, usize, f64)]) -> f64 {
    let faults = counted.iter().map(|(_, fault, _)| fault + 1).max().unwrap_or(0);
    let words = column.tool.words().len();
    let bins = if words > 0 { words } else { BINS };
    let mut joint = vec![0.0; faults * bins];
    let edges = Edges::of(column, counted, bins);
    for &(case, fault, weight) in counted {
        let own = &mut joint[fault * bins..(fault + 1) * bins];
        if column.shown[case].is_nan() {
            own.iter_mut().for_each(|bin| *bin += weight / bins as f64);
        } else if words > 0 {
            own[column.shown[case] as usize] += weight;
        } else {
            edges.spread(column.shown[case], column.deviation[case], weight, own);
        }
    }
    let whole: f64 = counted.iter().map(|(_, _, weight)| weight).sum();
    let entropy = |p: f64| if p > 0.0 { -p * p.log2() } else { 0.0 };
    let joint_entropy: f64 = joint.iter().map(|p| entropy(p / whole)).sum();
    let of_faults: f64 = joint.chunks(bins).map(|own| entropy(own.iter().sum::<f64>() / whole)).sum();
    let of_bins: f64 = (0..bins).map(|bin| entropy(joint.iter().skip(bin).step_by(bins).sum::<f64>() / whole)).sum();
    (of_faults + of_bins - joint_entropy).max(0.0)
}

/// Bins of a number, even on a scale that is finer about zero.
struct Edges {
    low: f64,
    step: f64,
    fine: f64,
}

impl Edges {
    fn of(column: &Column, counted: &[(usize, usize, f64)], bins: usize) -> Self {
        let fine = 0.02; // V, A or on the ohmmeter's scale: below it readings are alike
        let mut edges = Self { low: 0.0, step: 1.0, fine };
        let known = counted.iter().map(|&(case, _, _)| case).filter(|&case| !column.shown[case].is_nan());
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for case in known {
            let (shown, off) = (column.shown[case], 2.0 * column.deviation[case]);
            low = low.min(edges.scaled(shown - off));
            high = high.max(edges.scaled(shown + off));
        }
        if high > low {
            edges.low = low;
            edges.step = (high - low) / bins as f64;
        }
        edges
    }

    fn scaled(&self, value: f64) -> f64 {
        (value / self.fine).asinh()
    }

    /// Spreads a weight over the bins by a bell, taken as a triangle on the scale of the bins.
    fn spread(&self, shown: f64, deviation: f64, weight: f64, own: &mut [f64]) {
        let middle = (self.scaled(shown) - self.low) / self.step;
        let half = (self.scaled(shown + 2.0 * deviation) - self.scaled(shown - 2.0 * deviation)) / self.step / 2.0;
        let half = half.max(1e-6);
        let cumulated = |at: f64| {
            let u = ((at - middle) / half).clamp(-1.0, 1.0);
            if u < 0.0 { 0.5 * (1.0 + u) * (1.0 + u) } else { 1.0 - 0.5 * (1.0 - u) * (1.0 - u) }
        };
        let last = own.len() - 1;
        let first = ((middle - half).floor().max(0.0) as usize).min(last);
        let end = ((middle + half).floor().max(0.0) as usize).min(last);
        let mut before = 0.0;
        for bin in first..=end {
            let upto = if bin == end { 1.0 } else { cumulated(bin as f64 + 1.0) };
            own[bin] += weight * (upto - before);
            before = upto;
        }
    }
}
