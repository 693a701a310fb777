//! Why, in plain words.

use std::fmt::Write;

use super::Measurement;
use super::finder::FaultFinder;
use super::meaning::alike;
use super::ranking::briefly;
use crate::drive::{Entry, Section};
use crate::error::Error;

/// Probability of all faults of a section below which it is called good.
const GOOD: f64 = 0.03;
/// How many outcomes are told, how many faults are named for each, and how likely they must be.
const OUTCOMES: usize = 3;
const NAMED: usize = 3;
const LIKELY: f64 = 0.01;

impl FaultFinder {
    /// Probability of each section, in the order of the checks.
    pub fn sections(&self) -> Vec<(Section, f64)> {
        let (faults, _) = self.probabilities(&self.weights());
        let of = |section: Section| {
            let entries = self.table.entries.iter().zip(&faults).enumerate();
            // What no instrument tells from a good drive counts with that.
            let here = |(index, (entry, _)): &(usize, (&Entry, &f64))| {
                entry.section == section && self.table.twins.leader(index + 1) != 0
            };
            entries.filter(here).map(|(_, (_, p))| p).sum()
        };
        Section::ALL.into_iter().map(|section| (section, of(section))).collect()
    }

    /// What the readings say, in one or two sentences: "supply good, ground good, signals good: contactor".
    ///
    /// A section is good when it was tested: when a reading would be another with its faults beside the likeliest one. What
    /// nothing was measured of is "not tested", however unlikely another fault found makes it.
    pub fn reason(&mut self) -> String {
        let mut sections = self.sections();
        let (mut good, mut open) = (Vec::new(), Vec::new());
        let unlikely: Vec<Section> = sections.iter().filter(|(_, p)| *p < GOOD).map(|(section, _)| *section).collect();
        for (section, tested) in unlikely.iter().zip(self.tested(&unlikely)) {
            if tested {
                good.push(format!("{section} good"));
            } else {
                open.push(section.to_string());
            }
        }
        sections.retain(|(_, p)| *p >= GOOD);
        sections.sort_by(|a, b| b.1.total_cmp(&a.1));
        let left: Vec<String> =
            sections.iter().map(|(section, p)| format!("{section} ({})", crate::report::percent(*p))).collect();
        let mut text = good.join(", ");
        if !text.is_empty() {
            text.push_str(": ");
        }
        text += &if left.is_empty() { "nothing wrong".to_string() } else { left.join(", ") };
        if !open.is_empty() {
            let _ = write!(text, "; not tested: {}", open.join(", "));
        }
        let ranking = self.ranking();
        if let Some(first) = ranking.first() {
            let _ = write!(text, ". Most likely: {} ({}).", first.words, crate::report::percent(first.probability));
            if let Some(hazard) = &first.hazard {
                let _ = write!(text, " Danger: {hazard}.");
            }
        }
        if let Some(doubt) = self.contradiction() {
            let _ = write!(text, " {}", doubt.words);
        }
        text
    }

    /// What a measurement would tell, in words: what it shows with the likeliest faults, those with the same answer together.
    pub(super) fn why_next(&mut self, weights: &[f64], measurement: &Measurement, bits: f64) -> Result<String, Error> {
        let column = self.column(measurement)?;
        let groups = self.group_probabilities(weights);
        let mut order: Vec<usize> = (0..groups.len()).filter(|&kind| groups[kind] > LIKELY).collect();
        // Rounded, so that alike faults stay in the order along the loop.
        let rounded = |kind: usize| (groups[kind] * 1e6).round();
        order.sort_by(|&a, &b| rounded(b).total_cmp(&rounded(a)));
        let tool = measurement.tool;
        let mut answers: Vec<(super::Observed, Vec<String>)> = Vec::new();
        for kind in order {
            let own = |case: &usize| self.table.twins.leader(self.table.kind(*case)) == kind;
            // The likeliest case; the first of those alike.
            let likely = (0..weights.len())
                .filter(own)
                .reduce(|best, next| if weights[next] > weights[best] * (1.0 + 1e-6) { next } else { best });
            let Some(case) = likely.filter(|&case| !column.shown[case].is_nan()) else { continue };
            let shows = column.observed(case);
            let words = briefly(&self.table, kind);
            let same = |known: &super::Observed| alike(tool, std::slice::from_ref(known), std::slice::from_ref(&shows));
            match answers.iter_mut().find(|(known, _)| same(known)) {
                Some((_, faults)) => faults.push(words),
                None => answers.push((shows, vec![words])),
            }
        }
        let told: Vec<String> = answers
            .iter()
            .take(OUTCOMES)
            .map(|(shows, faults)| {
                let more = match faults.len().saturating_sub(NAMED) {
                    0 => String::new(),
                    more => format!(", or {more} more"),
                };
                let faults: Vec<&str> = faults.iter().take(NAMED).map(String::as_str).collect();
                format!("{} if {}{more}", tool.words_of(shows), faults.join(", or "))
            })
            .collect();
        Ok(format!("Tells {bits:.2} bits: {}.", told.join("; ")))
    }
}
