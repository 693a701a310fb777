//! The table of simulated cases: every fault at three severities, each on several drives drawn from their spread.

use rayon::prelude::*;

use super::candidates::candidates;
use super::case::{Bench, Case};
use super::measurement::Measurement;
use super::random::Random;
use super::spread::drawn;
use super::twins::Twins;
use crate::circuit::{Flow, Progress, Watcher};
use crate::drive::{Drive, Entry, Fault, fault_catalogue};
use crate::error::Error;

/// Settings of the table.
#[derive(Debug, Clone)]
pub struct TableOptions {
    /// Drives drawn for each fault and severity.
    pub draws: usize,
    /// Seed of the draws.
    pub seed: u64,
    /// Share of drives, before anything is measured, that have nothing wrong (typical, no source).
    pub healthy: f64,
}

impl Default for TableOptions {
    fn default() -> Self {
        Self { draws: 8, seed: 1, healthy: 0.03 }
    }
}

/// How bad a fault is, in three steps.
pub(super) const SEVERITIES: usize = 3;

/// What may be the matter: a fault of a severity, or nothing.
#[derive(Debug, Clone)]
pub(super) struct Hypothesis {
    /// Which fault of the catalogue; none for a healthy drive.
    pub(super) entry: Option<usize>,
    /// Of [`SEVERITIES`], mild first.
    pub(super) severity: usize,
    /// Its cases in the table.
    pub(super) cases: std::ops::Range<usize>,
    pub(super) prior: f64,
}

/// Simulated cases of a drive with every fault of its catalogue.
#[derive(Debug, Clone)]
pub struct FaultTable {
    pub(super) drive: Drive,
    pub(super) entries: Vec<Entry>,
    pub(super) bench: Bench,
    pub(super) hypotheses: Vec<Hypothesis>,
    pub(super) cases: Vec<Case>,
    /// How bad the fault is in each case.
    pub(super) amounts: Vec<Option<f64>>,
    /// Which hypothesis a case belongs to.
    pub(super) of_case: Vec<usize>,
    pub(super) candidates: Vec<Measurement>,
    /// Faults that no candidate tells apart.
    pub(super) twins: Twins,
    #[allow(dead_code, reason = "kept so that a table says how it was made")]
    pub(super) options: TableOptions,
}

impl FaultTable {
    /// Simulates every fault of the drive's catalogue.
    ///
    /// Each case is a drive whose parameters are drawn from their spread (`studies/faultfinding/spread.toml`: typical, no
    /// source), with the fault in it; its operating points with the control at rest, held each way, and isolated are kept.
    ///
    /// The watcher's `time` counts the cases done, `until` is their number.
    ///
    /// # Errors
    /// A description that cannot be a drive; no draws; [`Error::Cancelled`].
    pub fn build(drive: &Drive, options: &TableOptions, watcher: Watcher) -> Result<Self, Error> {
        drive.check()?;
        if options.draws == 0 {
            return Err(Error::option("draws", "0", "at least 1"));
        }
        let entries: Vec<Entry> = fault_catalogue(drive).into_iter().filter(|entry| entry.steady).collect();
        let bench = Bench::of(drive)?;
        let hypotheses = hypotheses(&entries, options);
        let of_case: Vec<usize> =
            hypotheses.iter().enumerate().flat_map(|(h, own)| own.cases.clone().map(move |_| h)).collect();
        let mut cases = Vec::with_capacity(of_case.len());
        let mut amounts = Vec::with_capacity(of_case.len());
        for start in (0..of_case.len()).step_by(CHUNK) {
            let done = Progress { time: start as f64, until: of_case.len() as f64, steps: start as u64 };
            if watcher(done) == Flow::Stop {
                return Err(Error::Cancelled);
            }
            let end = of_case.len().min(start + CHUNK);
            let made: Vec<_> = (start..end)
                .into_par_iter()
                .map(|case| {
                    let own = &hypotheses[of_case[case]];
                    // The same drives for every fault, so that what differs between two faults is the fault.
                    let mut random = Random::of_case(options.seed, (case - own.cases.start) as u64);
                    let entry = own.entry.map(|entry| &entries[entry]);
                    let severity = (own.severity as f64 + random.even()) / SEVERITIES as f64;
                    let amount = entry.and_then(|entry| entry.amount.as_ref()).map(|amount| amount.at(severity));
                    let faulty = varied(drive, entry.map(|entry| (entry, amount)), &mut random)?;
                    Ok((Case::of(&faulty, &bench), amount))
                })
                .collect::<Result<_, Error>>()?;
            for (case, amount) in made {
                cases.push(case);
                amounts.push(amount);
            }
        }
        let options = options.clone();
        let candidates = candidates(drive).into_iter().filter(|m| bench.place(m).is_ok()).collect();
        let (drive, twins) = (drive.clone(), Twins::default());
        let mut table = Self { drive, entries, bench, hypotheses, cases, amounts, of_case, candidates, twins, options };
        table.twins = Twins::of(&table)?;
        Ok(table)
    }

    /// The drive.
    pub fn drive(&self) -> &Drive {
        &self.drive
    }

    /// The faults it knows, in the order of the catalogue.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Points at which a probe may be put.
    pub fn points(&self) -> &[String] {
        &self.bench.points
    }

    /// Number of cases simulated.
    pub fn len(&self) -> usize {
        self.cases.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.cases.is_empty()
    }

    /// What a case is: 0 for nothing wrong, then the table's entries.
    pub(super) fn kind(&self, case: usize) -> usize {
        self.hypotheses[self.of_case[case]].entry.map_or(0, |entry| entry + 1)
    }

    /// The fault of an entry at the middle of what its cases have.
    pub(super) fn fault(&self, entry: usize, amount: Option<f64>) -> Fault {
        let entry = &self.entries[entry];
        Fault { part: entry.part.clone(), mode: entry.mode.clone(), amount }
    }
}

/// Cases made between two looks at the watcher.
const CHUNK: usize = 64;

/// A drive with its parameters drawn and a fault in it.
pub(super) fn varied(drive: &Drive, fault: Option<(&Entry, Option<f64>)>, random: &mut Random) -> Result<Drive, Error> {
    let mut description = drive.to_value()?;
    drawn(drive, &mut description, random)?;
    if let Some((entry, amount)) = fault {
        entry.apply(drive, &mut description, amount)?;
    }
    Drive::from_value(description)
}

fn hypotheses(entries: &[Entry], options: &TableOptions) -> Vec<Hypothesis> {
    let draws = options.draws;
    let mut list = vec![Hypothesis { entry: None, severity: 0, cases: 0..2 * draws, prior: options.healthy }];
    let mut next = 2 * draws;
    for (index, entry) in entries.iter().enumerate() {
        // Without severities, as many draws as all three together would have: correlated readings thin out a few draws.
        let (severities, draws) = if entry.amount.is_some() { (SEVERITIES, draws) } else { (1, SEVERITIES * draws) };
        for severity in 0..severities {
            let prior = (1.0 - options.healthy) * entry.prior / severities as f64;
            list.push(Hypothesis { entry: Some(index), severity, cases: next..next + draws, prior });
            next += draws;
        }
    }
    list
}

impl FaultTable {
    /// What an instrument shows on a drive of this kind, healthy or not.
    ///
    /// # Errors
    /// No such point.
    pub fn shown(&self, drive: &Drive, measurement: &Measurement) -> Result<super::Observed, Error> {
        let placed = self.bench.place(measurement)?;
        Ok(measurement.tool.observed(Case::of(drive, &self.bench).shows(&placed, &self.bench)))
    }
}
