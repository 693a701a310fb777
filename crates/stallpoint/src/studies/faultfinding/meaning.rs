//! What a reading other than the healthy one means.

use std::collections::BTreeSet;

use super::column::Column;
use super::finder::FaultFinder;
use super::measurement::{Measurement, Observed, Tool, ohm_scale};
use crate::error::Error;

/// A reading other than the healthy one, and what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct Meaning {
    /// What is shown, mild to severe: lowest and highest number (ohm where the tool shows them), or words.
    pub shows: Vec<Observed>,
    /// The faults that show it, in words; those that the step tests first.
    pub faults: Vec<String>,
    /// What is dangerous about them, where it is more than the measurement itself.
    pub hazards: Vec<String>,
}

/// Deviations off healthy from which a reading means something.
const OFF: f64 = 4.0;
/// Faults named beside those that a step tests.
const OTHERS: usize = 4;

impl FaultFinder {
    /// Faults that move a reading away from healthy with what it shows then: those for which `tested` holds first, then the
    /// most usual others. Faults that show the same are one.
    pub(super) fn meanings(
        &mut self,
        measurement: &Measurement,
        tested: impl Fn(&str) -> bool,
    ) -> Result<Vec<Meaning>, Error> {
        let column = self.column(measurement)?;
        let mut found: Vec<(bool, f64, usize, Vec<Observed>)> = Vec::new();
        for (entry, own) in self.table.entries.iter().enumerate() {
            let shows = self.shown_with(&column, entry);
            if !shows.is_empty() {
                found.push((tested(&own.name()), own.prior, entry, shows));
            }
        }
        found.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)));
        let own = found.iter().filter(|(tested, ..)| *tested).count();
        let mut meanings: Vec<Meaning> = Vec::new();
        for (_, _, entry, shows) in found.into_iter().take(own + OTHERS) {
            let entry = &self.table.entries[entry];
            let hazard = entry.hazard.clone();
            match meanings.iter_mut().find(|known| alike(measurement.tool, &known.shows, &shows)) {
                Some(known) => {
                    known.faults.push(entry.words.clone());
                    known.hazards.extend(hazard.filter(|hazard| !known.hazards.contains(hazard)));
                }
                None => {
                    let hazards = hazard.into_iter().collect();
                    meanings.push(Meaning { shows, faults: vec![entry.words.clone()], hazards });
                }
            }
        }
        Ok(meanings)
    }

    /// What is shown with a fault where that is not what a healthy drive shows.
    fn shown_with(&self, column: &Column, entry: usize) -> Vec<Observed> {
        let sound = self.table.hypotheses[0].cases.start;
        let hypotheses = self.table.hypotheses.iter().filter(|h| h.entry == Some(entry));
        let mut codes: Vec<f64> = hypotheses
            .flat_map(|h| h.cases.clone())
            .filter(|&case| {
                let off = column.off(case, column.shown[sound]).abs().min(column.off(sound, column.shown[case]).abs());
                off > OFF
            })
            .map(|case| column.shown[case])
            .collect();
        codes.sort_by(f64::total_cmp);
        let (Some(first), Some(last)) = (codes.first(), codes.last()) else { return Vec::new() };
        if column.tool.words().is_empty() {
            let (low, high) = (column.tool.observed(*first), column.tool.observed(*last));
            let one = alike(column.tool, std::slice::from_ref(&low), std::slice::from_ref(&high));
            return if one { vec![low] } else { vec![low, high] };
        }
        let words: BTreeSet<u8> = codes.iter().map(|code| *code as u8).collect();
        words.into_iter().map(|code| column.tool.observed(f64::from(code))).collect()
    }
}

/// Whether an instrument shows the same: words alike, numbers within its accuracy.
pub(super) fn alike(tool: Tool, one: &[Observed], other: &[Observed]) -> bool {
    let same = |pair: (&Observed, &Observed)| match pair {
        (Observed::Number(a), Observed::Number(b)) => {
            let (a, b) = if tool == Tool::Ohmmeter { (ohm_scale(*a), ohm_scale(*b)) } else { (*a, *b) };
            (a - b).abs() <= 2.0 * tool.deviation(a).max(tool.deviation(b))
        }
        (a, b) => a == b,
    };
    one.len() == other.len() && one.iter().zip(other).all(same)
}
