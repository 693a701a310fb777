//! Faults in the order of their probability, and what tells them apart.

use super::finder::{FaultFinder, Ranked, ToldBy};
use super::table::FaultTable;

/// Faults compared with their next in a ranking: what lies further down is of no use to anybody.
const COMPARED: usize = 5;

impl FaultFinder {
    /// Faults and "nothing wrong", the most probable first.
    ///
    /// The amount of a fault is the mean over its cases (the geometric one where its scale is logarithmic).
    pub fn ranking(&mut self) -> Vec<Ranked> {
        let weights = self.weights();
        let (faults, healthy) = self.probabilities(&weights);
        let mut order: Vec<(Option<usize>, f64)> =
            faults.iter().enumerate().map(|(entry, p)| (Some(entry), *p)).chain([(None, healthy)]).collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut told: Vec<Option<ToldBy>> = vec![None; order.len()];
        for (place, pair) in order.windows(2).take(COMPARED).enumerate() {
            told[place] = self.told_by(&weights, pair[0].0, pair[1].0);
        }
        order.iter().zip(told).map(|(&(entry, p), told_by)| ranked(&self.table, entry, p, &weights, told_by)).collect()
    }

    /// The measurement that tells two faults best apart, each as bad as the readings say.
    fn told_by(&mut self, weights: &[f64], one: Option<usize>, other: Option<usize>) -> Option<ToldBy> {
        let case = |wanted: Option<usize>| {
            let own = |case: &usize| self.table.hypotheses[self.table.of_case[*case]].entry == wanted;
            (0..weights.len()).filter(own).max_by(|&a, &b| weights[a].total_cmp(&weights[b]))
        };
        let (one, other) = (case(one)?, case(other)?);
        let mut best: Option<ToldBy> = None;
        for (measurement, column) in self.candidate_columns().ok()? {
            let apart = column.off(other, column.shown[one]).abs().min(column.off(one, column.shown[other]).abs());
            if apart > best.as_ref().map_or(1.0, |best| best.apart) {
                let shows = [column.observed(one), column.observed(other)];
                best = Some(ToldBy { measurement, shows, apart });
            }
        }
        best
    }
}

fn ranked(
    table: &FaultTable,
    entry: Option<usize>,
    probability: f64,
    weights: &[f64],
    told_by: Option<ToldBy>,
) -> Ranked {
    let Some(index) = entry else {
        let words = "nothing is wrong".to_string();
        return Ranked { fault: None, words, section: String::new(), probability, told_by };
    };
    let own = &table.entries[index];
    Ranked {
        fault: Some(table.fault(index, amount(table, index, weights))),
        words: own.words.clone(),
        section: own.section.to_string(),
        probability,
        told_by,
    }
}

/// How bad a fault is by the weights of its cases.
fn amount(table: &FaultTable, entry: usize, weights: &[f64]) -> Option<f64> {
    let scale = table.entries[entry].amount.as_ref()?.scale;
    let log = scale == crate::drive::Scale::Log;
    let (mut sum, mut whole) = (0.0, 0.0);
    for (case, weight) in weights.iter().enumerate() {
        if let (Some(amount), true) = (table.amounts[case], table.hypotheses[table.of_case[case]].entry == Some(entry))
        {
            sum += weight * if log { amount.ln() } else { amount };
            whole += weight;
        }
    }
    let mean = sum / whole;
    mean.is_finite().then_some(if log { mean.exp() } else { mean })
}
