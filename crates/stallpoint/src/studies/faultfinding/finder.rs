//! The finder: readings in, ranked faults out.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::column::Column;
use super::table::{FaultTable, TableOptions};
use super::{Measurement, Observed};
use crate::circuit::Flow;
use crate::drive::{Drive, Fault};
use crate::error::Error;

/// Finds the fault of a drive from readings.
///
/// ```text
/// P(case | readings) ∝ P(case) Π p(reading | case)
/// ```
///
/// over the cases of a [`FaultTable`]: every fault at three severities on drives drawn from their spread, so that what moves
/// several readings together (a battery a little lower) does so in the cases too. The likelihood is a bell about what the case
/// shows, as wide as the meter's accuracy and the gap between drawn cases, with a small share for readings taken wrongly; of
/// words, whether they agree. Priors come from the catalogue. The fault's probability is the sum over its cases.
///
/// Limits: one fault at a time; steady readings, a mean while a contactor chatters; what no reading can tell apart is one
/// answer. A joint that comes and goes is not among the faults: its readings [contradict](Self::contradiction) each other.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::faultfinding::{FaultFinder, Held, Measurement, Observed, TableOptions, Tool};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let mut finder = FaultFinder::with_options(&drive, &TableOptions { draws: 2, ..TableOptions::default() })?;
/// let watch = Measurement::look(Tool::WatchMotor, Held::Forward);
/// finder.observe(&watch, &Observed::Word("stands".into()))?;
/// let drop = Measurement::between(Tool::Voltmeter, Held::Forward, "ground_stud", "ground_stud_lug");
/// finder.observe(&drop, &Observed::Number(8.0))?;
/// assert_eq!(finder.ranking()[0].fault.as_ref().unwrap().part, "ground_stud_joint");
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct FaultFinder {
    pub(super) table: Arc<FaultTable>,
    pub(super) columns: BTreeMap<Measurement, Arc<Column>>,
    /// Logarithm of the weight of each case.
    pub(super) log_weights: Vec<f64>,
    pub(super) readings: Vec<Reading>,
}

/// A reading that was entered.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What was measured.
    pub measurement: Measurement,
    /// What it showed.
    pub observed: Observed,
    pub(super) code: f64,
}

/// A fault with its probability.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked {
    /// The fault, as bad as the readings say; none for a drive with nothing wrong.
    pub fault: Option<Fault>,
    /// Others that these instruments cannot tell from it, the most probable first; none for most.
    pub others: Vec<Fault>,
    /// What it is, for people; with others, that they cannot be told apart, and all of them in the order of the catalogue.
    pub words: String,
    /// Section of the drive, or sections where others are elsewhere; empty for a drive with nothing wrong.
    pub section: String,
    /// Its probability, with that of the others.
    pub probability: f64,
    /// What is dangerous about it, where it is more than a bad drive.
    pub hazard: Option<String>,
    /// The measurement, of those not made yet, that would tell it best from the next in the ranking, and what both would show.
    pub told_by: Option<ToldBy>,
}

/// A measurement that tells two faults apart.
#[derive(Debug, Clone, PartialEq)]
pub struct ToldBy {
    /// What to measure.
    pub measurement: Measurement,
    /// What it shows with this fault, and with the next one.
    pub shows: [Observed; 2],
    /// How far apart they are, in deviations.
    pub apart: f64,
}

impl FaultFinder {
    /// A finder with a table of its own.
    ///
    /// # Errors
    /// A description that cannot be a drive.
    pub fn new(drive: &Drive) -> Result<Self, Error> {
        Self::with_options(drive, &TableOptions::default())
    }

    /// A finder whose table has other settings.
    ///
    /// # Errors
    /// As for [`FaultTable::build`].
    pub fn with_options(drive: &Drive, options: &TableOptions) -> Result<Self, Error> {
        Ok(Self::on(Arc::new(FaultTable::build(drive, options, &mut |_| Flow::Continue)?)))
    }

    /// A finder on a table that was made before.
    pub fn on(table: Arc<FaultTable>) -> Self {
        let log_weights = prior(&table);
        Self { table, columns: BTreeMap::new(), log_weights, readings: Vec::new() }
    }

    /// The table.
    pub fn table(&self) -> &FaultTable {
        &self.table
    }

    /// Readings entered so far.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// Enters a reading.
    ///
    /// # Errors
    /// No such point; a reading that the instrument cannot show; [`Error::ImplausibleReading`] for one that no drive of this kind
    /// can. Nothing is entered then, and what was entered before stays.
    pub fn observe(&mut self, measurement: &Measurement, observed: &Observed) -> Result<(), Error> {
        let code = measurement.tool.code(observed)?;
        let column = self.column(measurement)?;
        super::plausible::refuse(&self.table, measurement, &column, observed)?;
        for (case, weight) in self.log_weights.iter_mut().enumerate() {
            *weight += column.likelihood(case, code).ln();
        }
        self.readings.push(Reading { measurement: measurement.clone(), observed: observed.clone(), code });
        Ok(())
    }

    /// Forgets all readings.
    pub fn reset(&mut self) {
        self.log_weights = prior(&self.table);
        self.readings.clear();
    }

    /// Takes back the reading of this index.
    ///
    /// # Errors
    /// There is no such reading.
    pub fn forget(&mut self, index: usize) -> Result<(), Error> {
        if index >= self.readings.len() {
            let allowed = format!("below {}, the number of readings", self.readings.len());
            return Err(Error::option("index", &index.to_string(), &allowed));
        }
        let mut kept = std::mem::take(&mut self.readings);
        kept.remove(index);
        self.reset();
        kept.iter().try_for_each(|reading| self.observe(&reading.measurement, &reading.observed))
    }

    /// Probability of each case.
    pub(super) fn weights(&self) -> Vec<f64> {
        normalised(&self.log_weights)
    }

    /// Probability of each fault by index of the table's entries, and of nothing wrong.
    pub(super) fn probabilities(&self, weights: &[f64]) -> (Vec<f64>, f64) {
        let mut faults = vec![0.0; self.table.entries.len()];
        let mut healthy = 0.0;
        for (weight, &hypothesis) in weights.iter().zip(&self.table.of_case) {
            match self.table.hypotheses[hypothesis].entry {
                Some(entry) => faults[entry] += weight,
                None => healthy += weight,
            }
        }
        (faults, healthy)
    }

    /// Probability of each group that no reading tells apart, by index of its first member: 0 for nothing wrong, then the
    /// table's entries; 0 for what belongs to another's group.
    pub(super) fn group_probabilities(&self, weights: &[f64]) -> Vec<f64> {
        let (faults, healthy) = self.probabilities(weights);
        let mut groups = vec![0.0; faults.len() + 1];
        for (kind, p) in [healthy].into_iter().chain(faults).enumerate() {
            groups[self.table.twins.leader(kind)] += p;
        }
        groups
    }

    /// Column of a measurement, made when it is first asked for.
    pub(super) fn column(&mut self, measurement: &Measurement) -> Result<Arc<Column>, Error> {
        if let Some(column) = self.columns.get(measurement) {
            return Ok(column.clone());
        }
        let column = Arc::new(Column::of(&self.table, measurement)?);
        self.columns.insert(measurement.clone(), column.clone());
        Ok(column)
    }

    /// All candidates with their columns.
    pub(super) fn candidate_columns(&mut self) -> Result<Vec<(Measurement, Arc<Column>)>, Error> {
        let table = self.table.clone();
        table.candidates.iter().map(|m| Ok((m.clone(), self.column(m)?))).collect()
    }
}

/// Logarithm of each case's weight before anything is measured.
fn prior(table: &FaultTable) -> Vec<f64> {
    let weight = |&hypothesis: &usize| {
        let own = &table.hypotheses[hypothesis];
        (own.prior / own.cases.len() as f64).ln()
    };
    table.of_case.iter().map(weight).collect()
}

/// Weights that add to one.
pub(super) fn normalised(log_weights: &[f64]) -> Vec<f64> {
    let largest = log_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let raw: Vec<f64> = log_weights.iter().map(|weight| (weight - largest).exp()).collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|weight| weight / sum).collect()
}
