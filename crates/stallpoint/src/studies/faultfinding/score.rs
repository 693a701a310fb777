//! An honest score: faults on drives the finder has not seen.

use std::sync::Arc;

use rayon::prelude::*;

use super::case::{Bench, Case};
use super::column::Column;
use super::finder::FaultFinder;
use super::measurement::{Measurement, Tool};
use super::next_test::StopRule;
use super::random::Random;
use super::steps::practice;
use super::table::{FaultTable, SEVERITIES, varied};
use crate::drive::{Control, Drive};
use crate::error::Error;
use crate::parts::MovingArmature;

/// In which order the measurements are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// As the finder says.
    Finder,
    /// Top down: look, supply, ground, signals, contactor, motor.
    TopDown,
    /// The steps of the [procedure](FaultFinder::steps): what common practice teaches, supply, ground, signals, the contactor each
    /// way, the motor; looking and listening first.
    CommonPractice,
    /// At random, seeded.
    Random,
}

/// Settings of a score.
#[derive(Debug, Clone)]
pub struct ScoreOptions {
    /// Order of the measurements.
    pub order: Order,
    /// Seed of drives and meter noise; not the table's.
    pub seed: u64,
    /// Deviations by which some reading of a fault must differ from a healthy drive's for the case to count, and from another
    /// fault's for the two not to be one group.
    pub apart: f64,
    /// Measurements after which a search ends in any case.
    pub most: usize,
    /// When the search ends before.
    pub rule: StopRule,
    /// Whether the truth comes from the contactor's detailed fidelity ([`MovingArmature`]), where that has a model of the
    /// fault; the finder works on the quick one in any case.
    pub detailed: bool,
}

impl Default for ScoreOptions {
    fn default() -> Self {
        let rule = StopRule::default();
        Self { order: Order::Finder, seed: 20_261_125, apart: 3.0, most: 40, rule, detailed: true }
    }
}

/// How a finder fared.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Score {
    /// Faults at three severities.
    pub cases: usize,
    /// Those that no reading tells from a healthy drive, and those not solved.
    pub left_out: usize,
    /// Cases of `left_out` whose truth could not be solved, by fault.
    pub unsolved: Vec<String>,
    /// Those whose fault, or one of its group, came first.
    pub first: usize,
    /// … or among the first three.
    pub top_three: usize,
    /// Mean number of measurements of the cases that count.
    pub measurements: f64,
    /// Mean time by the costs of the measurements, min.
    pub minutes: f64,
    /// Mean and largest number of faults in a group.
    pub group_mean: f64,
    /// The largest group.
    pub group_largest: usize,
    /// Faults whose truth is the quick fidelity though the detailed one was asked for, and why: it has no model of them, or
    /// its equations could not be solved.
    pub quick: Vec<(String, String)>,
    /// Cases that count and whose fault did not come first: fault and what came first.
    pub missed: Vec<(String, String)>,
}

/// A case that counts; one that is left out has a group of 0.
struct Outcome {
    quick: Option<(String, String)>,
    group: usize,
    place: usize,
    made: usize,
    minutes: f64,
    missed: Option<(String, String)>,
}

/// Scores the finder: each fault of the catalogue at three severities, on a drive drawn from its spread with another seed than
/// the table's, read by meters with noise.
///
/// Limits: the truth has the contactor's detailed fidelity where that has a model of the fault ([`Score::quick`] names the others)
/// and the same model of all other parts as the table: what that leaves out is not scored. One fault at a time.
///
/// # Errors
/// Only those of the drive's own measurements: none that a user causes.
pub fn score(table: &Arc<FaultTable>, options: &ScoreOptions) -> Result<Score, Error> {
    let mut first = FaultFinder::on(table.clone());
    let columns = first.candidate_columns()?;
    let opening = first.next_test(&options.rule)?.map(|next| next.measurement);
    let trials: Vec<(usize, usize)> = table
        .hypotheses
        .iter()
        .filter_map(|h| h.entry.map(|entry| (entry, h.severity)))
        .flat_map(|(entry, severity)| {
            let copies = if table.entries[entry].amount.is_some() { 1 } else { SEVERITIES };
            std::iter::repeat_n((entry, severity), copies)
        })
        .collect();
    let outcomes: Vec<Outcome> = trials
        .par_iter()
        .enumerate()
        .map(|(index, &(entry, severity))| {
            trial(table, &first, &columns, opening.as_ref(), options, index, entry, severity)
        })
        .collect::<Result<_, _>>()?;
    let counted: Vec<&Outcome> = outcomes.iter().filter(|outcome| outcome.group > 0).collect();
    let mut quick: Vec<(String, String)> = outcomes.iter().filter_map(|outcome| outcome.quick.clone()).collect();
    quick.sort();
    quick.dedup();
    let n = counted.len().max(1) as f64;
    Ok(Score {
        cases: outcomes.len(),
        left_out: outcomes.len() - counted.len(),
        first: counted.iter().filter(|o| o.place == 0).count(),
        top_three: counted.iter().filter(|o| o.place < 3).count(),
        measurements: counted.iter().map(|o| o.made as f64).sum::<f64>() / n,
        minutes: counted.iter().map(|o| o.minutes).sum::<f64>() / n,
        group_mean: counted.iter().map(|o| o.group as f64).sum::<f64>() / n,
        group_largest: counted.iter().map(|o| o.group).max().unwrap_or(0),
        quick,
        unsolved: outcomes.iter().filter(|o| o.group == 0).filter_map(|o| Some(o.missed.clone()?.0)).collect(),
        missed: counted.iter().filter_map(|o| o.missed.clone()).collect(),
    })
}

type Columns = [(Measurement, Arc<Column>)];

fn trial(
    table: &Arc<FaultTable>,
    first: &FaultFinder,
    columns: &Columns,
    opening: Option<&Measurement>,
    options: &ScoreOptions,
    index: usize,
    entry: usize,
    severity: usize,
) -> Result<Outcome, Error> {
    let mut random = Random::of_case(options.seed, index as u64);
    let own = &table.entries[entry];
    let level = (severity as f64 + random.even()) / SEVERITIES as f64;
    let amount = own.amount.as_ref().map(|amount| amount.at(level));
    let drive = varied(&table.drive, Some((own, amount)), &mut random)?;
    let (truth, why_quick) = truth(&drive, &table.bench, options.detailed);
    let quick = why_quick.map(|why| (own.name(), why));
    let left_out = || Ok(Outcome { quick: quick.clone(), group: 0, place: 0, made: 0, minutes: 0.0, missed: None });
    let hypothesis = |wanted: Option<usize>| {
        move |h: &&super::table::Hypothesis| h.entry == wanted && (wanted.is_none() || h.severity == severity)
    };
    let Some(mine) = table.hypotheses.iter().find(hypothesis(Some(entry))) else { return left_out() };
    // The group is decided by the table alone, before anything is read.
    let alike = |other: &super::table::Hypothesis| {
        !columns.iter().any(|(_, column)| told_apart(column, mine.cases.clone(), other.cases.clone(), options.apart))
    };
    if alike(&table.hypotheses[0]) {
        return left_out();
    }
    let mut group: Vec<usize> =
        table.hypotheses.iter().filter(|h| alike(h)).filter_map(|h| h.entry).chain([entry]).collect();
    group.sort_unstable();
    group.dedup();

    let mut finder = first.clone();
    let mut order: Vec<usize> = (0..columns.len()).collect();
    if options.order == Order::Random {
        for k in (1..order.len()).rev() {
            order.swap(k, (random.next() % (k as u64 + 1)) as usize);
        }
    }
    let practice = if options.order == Order::CommonPractice { practice(first.table.bench.device) } else { Vec::new() };
    let (mut made, mut minutes) = (0, 0.0);
    while made < options.most {
        let measurement = match (options.order, made) {
            (Order::Finder, 0) => opening.cloned(),
            (Order::Finder, _) => finder.next_test(&options.rule)?.map(|next| next.measurement),
            _ if finder.sure(&options.rule) => None,
            (Order::CommonPractice, _) => practice.get(made).cloned(),
            _ => order.get(made).map(|&k| columns[k].0.clone()),
        };
        let Some(measurement) = measurement else { break };
        let placed = table.bench.place(&measurement)?;
        let shown = truth.shows(&placed, &table.bench);
        if shown.is_nan() {
            return Ok(Outcome { missed: Some((own.name(), String::new())), ..left_out()? });
        }
        let noisy = shown + measurement.tool.deviation(shown) * random.normal();
        let noisy = if measurement.tool == Tool::Ohmmeter && shown > 17.0 { shown } else { noisy };
        finder.observe(&measurement, &measurement.tool.observed(noisy))?;
        minutes += measurement.cost().minutes;
        made += 1;
    }
    let (faults, healthy) = finder.probabilities(&finder.weights());
    // Places as the ranking has them: what these instruments cannot tell apart is one row.
    let rows = finder.group_probabilities(&finder.weights());
    let best = group.iter().map(|&entry| rows[table.twins.leader(entry + 1)]).fold(0.0, f64::max);
    let place = rows.iter().filter(|p| **p > best).count();
    let missed = (place > 0).then(|| {
        let top = (0..faults.len()).max_by(|&a, &b| faults[a].total_cmp(&faults[b]));
        let top =
            top.filter(|&top| faults[top] > healthy).map_or("nothing wrong".into(), |top| table.entries[top].name());
        (format!("{} at {}", own.name(), amount.map_or("-".into(), |a| format!("{a:.3}"))), top)
    });
    Ok(Outcome { quick, group: group.len(), place, made, minutes, missed })
}

/// The drive as instruments find it, with the contactor in detailed fidelity where that can be; why not where it cannot.
fn truth(drive: &Drive, bench: &Bench, detailed: bool) -> (Case, Option<String>) {
    if !detailed {
        return (Case::of(drive, bench), None);
    }
    let mut own = drive.clone();
    own.contactor.detailed.get_or_insert_with(MovingArmature::default);
    let why = match own.check().and_then(|()| own.circuit(&Control::new())) {
        Err(error) => error.to_string(),
        Ok(_) => {
            let case = Case::of(&own, bench);
            if case.known() {
                return (case, None);
            }
            "its equations could not be solved".into()
        }
    };
    (Case::of(drive, bench), Some(why))
}

/// Whether a column's readings differ between two sets of cases by so many deviations; words by their most usual one.
fn told_apart(column: &Column, one: std::ops::Range<usize>, other: std::ops::Range<usize>, apart: f64) -> bool {
    let mean = |cases: std::ops::Range<usize>| {
        // Cases that could not be solved say nothing, for or against.
        let cases = cases.filter(|&case| !column.shown[case].is_nan());
        let n = cases.clone().count() as f64;
        let mean = cases.clone().map(|case| column.shown[case]).sum::<f64>() / n;
        let spread = cases.clone().map(|case| (column.shown[case] - mean).powi(2)).sum::<f64>() / n;
        let meter = cases.map(|case| column.tool.deviation(column.shown[case]).powi(2)).sum::<f64>() / n;
        (mean, spread + meter)
    };
    let ((a, va), (b, vb)) = (mean(one), mean(other));
    if column.tool.words().is_empty() {
        (a - b).abs() > apart * (va + vb).sqrt().max(1e-9)
    } else {
        (a - b).abs() > 0.9
    }
}

impl FaultFinder {
    /// Whether the stop rule is met.
    pub fn sure(&self, rule: &StopRule) -> bool {
        self.group_probabilities(&self.weights()).into_iter().fold(0.0, f64::max) >= rule.sure
    }
}
