//! Which sections the readings have tested.

use rayon::prelude::*;

use super::case::Case;
use super::column::Column;
use super::finder::FaultFinder;
use super::ranking::amount;
use crate::drive::Section;

/// Deviations by which a fault must move a reading for the reading to test it.
const SEEN: f64 = 3.0;
/// Share of a section's faults, by their priors, that must be tested for the section to be.
const MOST: f64 = 0.7;

impl FaultFinder {
    /// Whether the readings have tested sections: whether, with each of most of their faults beside the likeliest fault, some
    /// reading made would be another. Both faults are put into the drive, the second half way between mild and severe; faults
    /// that no instrument shows do not count.
    pub(super) fn tested(&self, sections: &[Section]) -> Vec<bool> {
        let (table, weights) = (&self.table, self.weights());
        let made: Vec<&Column> =
            self.readings.iter().filter_map(|r| self.columns.get(&r.measurement)).map(|c| &**c).collect();
        let placed: Vec<_> = self.readings.iter().filter_map(|r| table.bench.place(&r.measurement).ok()).collect();
        let Some(best) = (0..weights.len()).max_by(|&a, &b| weights[a].total_cmp(&weights[b])) else {
            return Vec::new();
        };
        let likeliest = table.kind(best).checked_sub(1).map(|entry| table.fault(entry, amount(table, entry, &weights)));
        let base = likeliest.map_or(Ok(table.drive.clone()), |fault| table.drive.with_fault(&fault));
        let (Ok(base), false) = (base, made.is_empty()) else { return vec![false; sections.len()] };
        let shown = |case: &Case| placed.iter().map(|placed| case.shows(placed, &table.bench)).collect::<Vec<f64>>();
        let without = shown(&Case::of(&base, &table.bench));
        let seen = |entry: usize| {
            let Ok(both) = base.with_fault(&table.entries[entry].at(0.5)) else { return false };
            let with = shown(&Case::of(&both, &table.bench));
            made.iter().enumerate().any(|(k, column)| {
                let apart = (with[k] - without[k]).abs();
                if column.tool.words().is_empty() { apart > SEEN * column.deviation[best] } else { apart > 0.5 }
            })
        };
        let of = |section: &Section| {
            let here = |entry: &usize| table.entries[*entry].section == *section && table.twins.leader(entry + 1) != 0;
            let entries: Vec<usize> = (0..table.entries.len()).filter(here).collect();
            let whole: f64 = entries.iter().map(|&entry| table.entries[entry].prior).sum();
            let known: f64 = entries.par_iter().filter(|entry| seen(**entry)).map(|&e| table.entries[e].prior).sum();
            known >= MOST * whole
        };
        sections.iter().map(of).collect()
    }
}
