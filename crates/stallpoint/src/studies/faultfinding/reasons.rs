//! Why, in plain words.

use std::fmt::Write;

use super::Measurement;
use super::finder::FaultFinder;
use crate::drive::Section;
use crate::error::Error;

/// Probability of all faults of a section below which it is called good.
const GOOD: f64 = 0.03;
/// How many outcomes are told.
const OUTCOMES: usize = 3;

impl FaultFinder {
    /// Probability of each section, in the order of the checks.
    pub fn sections(&self) -> Vec<(Section, f64)> {
        let (faults, _) = self.probabilities(&self.weights());
        let of = |section: Section| {
            let entries = self.table.entries.iter().zip(&faults);
            entries.filter(|(entry, _)| entry.section == section).map(|(_, p)| p).sum()
        };
        Section::ALL.into_iter().map(|section| (section, of(section))).collect()
    }

    /// What the readings say, in one or two sentences: "supply good, ground good, signals good: contactor".
    pub fn reason(&mut self) -> String {
        let sections = self.sections();
        let good: Vec<String> =
            sections.iter().filter(|(_, p)| *p < GOOD).map(|(section, _)| format!("{section} good")).collect();
        let mut left: Vec<&(Section, f64)> = sections.iter().filter(|(_, p)| *p >= GOOD).collect();
        left.sort_by(|a, b| b.1.total_cmp(&a.1));
        let left: Vec<String> =
            left.iter().map(|(section, p)| format!("{section} ({})", crate::report::percent(*p))).collect();
        let mut text = good.join(", ");
        if !text.is_empty() {
            text.push_str(": ");
        }
        text += &if left.is_empty() { "nothing wrong".to_string() } else { left.join(", ") };
        let ranking = self.ranking();
        if let Some(first) = ranking.first() {
            let _ = write!(text, ". Most likely: {} ({}).", first.words, crate::report::percent(first.probability));
        }
        if let Some(doubt) = self.contradiction() {
            let _ = write!(text, " {}", doubt.words);
        }
        text
    }

    /// What a measurement would tell, in words.
    pub(super) fn why_next(&mut self, weights: &[f64], measurement: &Measurement, bits: f64) -> Result<String, Error> {
        let column = self.column(measurement)?;
        let (faults, _) = self.probabilities(weights);
        let mut order: Vec<usize> = (0..faults.len()).collect();
        order.sort_by(|&a, &b| faults[b].total_cmp(&faults[a]));
        let mut shown: Vec<String> = Vec::new();
        for &entry in order.iter().take(OUTCOMES).filter(|entry| faults[**entry] > 0.01) {
            let own = |case: &usize| self.table.hypotheses[self.table.of_case[*case]].entry == Some(entry);
            let likely = (0..weights.len()).filter(own).max_by(|&a, &b| weights[a].total_cmp(&weights[b]));
            if let Some(case) = likely {
                let unit = measurement.tool.unit();
                let value = match column.observed(case) {
                    super::Observed::Number(value) => crate::report::quantity(value, unit),
                    word => word.to_string(),
                };
                shown.push(format!("{value} if {}", self.table.entries[entry].words));
            }
        }
        Ok(format!("Tells {bits:.2} bits: {}.", shown.join("; ")))
    }
}
