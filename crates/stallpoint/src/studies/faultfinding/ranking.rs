//! Faults in the order of their probability, and what tells them apart.

use super::finder::{FaultFinder, Ranked, ToldBy};
use super::table::FaultTable;

/// Faults compared with their next in a ranking: what lies further down is of no use to anybody.
const COMPARED: usize = 5;

impl FaultFinder {
    /// Faults and "nothing wrong", the most probable first; those that these instruments cannot tell apart as one.
    ///
    /// The amount of a fault is the mean over its cases (the geometric one where its scale is logarithmic).
    pub fn ranking(&mut self) -> Vec<Ranked> {
        let weights = self.weights();
        let (faults, healthy) = self.probabilities(&weights);
        let of: Vec<f64> = [healthy].into_iter().chain(faults).collect();
        let leads = |kind: &usize| self.table.twins.leader(*kind) == *kind;
        let groups = self.group_probabilities(&weights);
        let mut order: Vec<usize> = (0..groups.len()).filter(leads).collect();
        order.sort_by(|&a, &b| groups[b].total_cmp(&groups[a]));
        let mut told: Vec<Option<ToldBy>> = vec![None; order.len()];
        for (place, pair) in order.windows(2).take(COMPARED).enumerate() {
            told[place] = self.told_by(&weights, pair[0], pair[1]);
        }
        let table = &self.table;
        let row = |(&leader, told_by): (&usize, Option<ToldBy>)| {
            let mut members: Vec<usize> = table.twins.members(leader).collect();
            let words = in_words(table, &members);
            let section = sections(table, &members).join(", ");
            // What cannot be told from nothing wrong is that, first of all.
            members.sort_by(|&a, &b| (b == 0).cmp(&(a == 0)).then(of[b].total_cmp(&of[a])));
            let fault = |kind: usize| (kind > 0).then(|| table.fault(kind - 1, amount(table, kind - 1, &weights)));
            let hazard = members[0].checked_sub(1).and_then(|entry| table.entries[entry].hazard.clone());
            let others = members[1..].iter().filter_map(|&kind| fault(kind)).collect();
            Ranked { fault: fault(members[0]), others, words, section, probability: groups[leader], hazard, told_by }
        };
        order.iter().zip(told).map(row).collect()
    }

    /// The measurement that tells two groups best apart, each as bad as the readings say; none that was made already.
    fn told_by(&mut self, weights: &[f64], one: usize, other: usize) -> Option<ToldBy> {
        let table = self.table.clone();
        let case = |leader: usize| {
            let own = |case: &usize| table.twins.leader(table.kind(*case)) == leader;
            (0..weights.len()).filter(own).max_by(|&a, &b| weights[a].total_cmp(&weights[b]))
        };
        let (one, other) = (case(one)?, case(other)?);
        let mut best: Option<ToldBy> = None;
        for (measurement, column) in self.candidate_columns().ok()? {
            if self.readings.iter().any(|reading| reading.measurement == measurement) {
                continue;
            }
            let apart = column.off(other, column.shown[one]).abs().min(column.off(one, column.shown[other]).abs());
            if apart > best.as_ref().map_or(TELLS, |best| best.apart) {
                let shows = [column.observed(one), column.observed(other)];
                if shows[0] != shows[1] {
                    best = Some(ToldBy { measurement, shows, apart });
                }
            }
        }
        best
    }
}

/// Deviations from which a measurement is worth naming: less would not settle it.
const TELLS: f64 = 2.0;

/// Sections of the members of a group, in the order of the checks.
fn sections(table: &FaultTable, members: &[usize]) -> Vec<String> {
    let mut sections: Vec<_> =
        members.iter().filter(|kind| **kind > 0).map(|kind| table.entries[kind - 1].section).collect();
    sections.sort_unstable();
    sections.dedup();
    sections.iter().map(ToString::to_string).collect()
}

/// A group in words.
pub(super) fn in_words(table: &FaultTable, members: &[usize]) -> String {
    let own =
        |kind: &usize| kind.checked_sub(1).map_or("nothing is wrong", |entry| table.entries[entry].words.as_str());
    if members.len() < 2 {
        return members.first().map_or(String::new(), |kind| own(kind).to_string());
    }
    let of = |section: &String| {
        let here = |kind: &&usize| **kind > 0 && table.entries[**kind - 1].section.to_string() == *section;
        let words: Vec<&str> = members.iter().filter(here).map(own).collect();
        format!("{section} ({})", words.join("; "))
    };
    let groups: Vec<String> = sections(table, members).iter().map(of).collect();
    if members.contains(&0) {
        return format!("{}, or what these instruments do not show: {}", own(&0), groups.join(", "));
    }
    format!("cannot be told apart by these instruments: {}", groups.join(", "))
}

/// A group in a few words, for a list.
pub(super) fn briefly(table: &FaultTable, leader: usize) -> String {
    let words = |kind: usize| table.entries[kind - 1].words.as_str();
    match leader {
        0 => "nothing is wrong".into(),
        _ => table.twins.members(leader).map(words).collect::<Vec<_>>().join(", or its like "),
    }
}

/// How bad a fault is by the weights of its cases.
pub(super) fn amount(table: &FaultTable, entry: usize, weights: &[f64]) -> Option<f64> {
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
