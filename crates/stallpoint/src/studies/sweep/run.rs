//! Making a sweep.

use super::axis::Axis;
use super::cases::{Cases, Failure};
use super::grid::Grid;
use super::measure::Measure;
use super::table::{Column, SweepTable};
use crate::circuit::{Ending, TransientOptions, Watcher};
use crate::drive::{Direction, Drive, StartOptions};
use crate::error::Error;
use crate::quantity::Time;

/// Settings of a sweep.
#[derive(Debug, Clone)]
pub struct SweepOptions {
    /// Direction of the starts.
    pub direction: Direction,
    /// How long the control is held at each, s.
    pub hold: f64,
    /// Settings of the transients; no energy account by default.
    pub transient: TransientOptions,
    /// How many threads work at once; as many as the machine has when left out. The result does not depend on it.
    pub threads: Option<usize>,
}

impl Default for SweepOptions {
    fn default() -> Self {
        Self {
            direction: Direction::Forward,
            hold: 3.0,
            transient: TransientOptions { energy: false, ..TransientOptions::default() },
            threads: None,
        }
    }
}

/// Starts a drive at every point of a grid and takes figures of each start.
///
/// The grid is every combination of the axes' values, the first axis slowest. The result has one row for every case,
/// always: a case that cannot be made keeps its row, with NaN for its figures and the reason in
/// [`failures`](SweepTable::failures).
///
/// Every value of every axis is read before any case is made: a key that does not exist, a wrong unit, a number that is
/// not finite or a text that does not read is an error of the whole sweep. A value that reads but that its part refuses
/// (a negative length) fails its cases only. An axis must read without the others: values that only fit together belong
/// on one [zipped](Axis::zipped) axis.
///
/// The watcher is called from the calling thread, at the beginning, some 50 times a second and at the end. In its progress
/// `time` and `steps` are the cases done and `until` is their number. When it returns [`Flow::Stop`](crate::circuit::Flow)
/// the runs at work are broken off, the rows done so far are kept, all others say "cancelled", and the table's ending is
/// [`Ending::Cancelled`].
///
/// # Errors
/// A description that cannot be a drive; no axes, an axis without keys or values or with columns of different lengths;
/// two axes for one value or of one name; a value that does not read; no measures or two of one name; a hold that is not
/// above zero; no threads.
///
/// # Example
/// ```
/// use stallpoint::circuit::Flow;
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sweep::{Axis, Measure, SweepOptions, sweep};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let axes = [
///     Axis::together(["supply_cable.length", "ground_cable.length"], [4.0, 8.0]).named("run"),
///     Axis::new("ground_stud_joint.resistance", ["0.2 mohm", "0.2 ohm"]),
/// ];
/// let measures = Measure::list(["peak_current", "stalled"])?;
/// let options = SweepOptions { hold: 0.3, ..SweepOptions::default() };
/// let table = sweep(&drive, &axes, &measures, &options, &mut |_| Flow::Continue)?;
/// assert_eq!(table.shape(), [2, 2]);
/// assert_eq!(table.values("stalled")?, [0.0, 1.0, 0.0, 1.0]);
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn sweep(
    drive: &Drive,
    axes: &[Axis],
    measures: &[Measure],
    options: &SweepOptions,
    watcher: Watcher,
) -> Result<SweepTable, Error> {
    drive.check()?;
    check(measures, options)?;
    let (grid, axes) = Grid::read(drive, axes)?;
    let start = StartOptions { hold: options.hold, transient: options.transient.clone() };
    let cases = Cases { grid, measures, direction: options.direction, start };
    let figures = cases.make(options.threads, watcher)?;

    let column = |(index, measure): (usize, &Measure)| Column {
        name: measure.name().into(),
        unit: measure.unit().into(),
        kind: measure.kind(),
        values: figures.iter().map(|case| case.as_ref().map_or(f64::NAN, |figures| figures[index])).collect(),
    };
    let columns = measures.iter().enumerate().map(column).collect();
    let cancelled = figures.iter().any(|case| matches!(case, Err(Failure::Cancelled)));
    let reason = |failure| match failure {
        Failure::Cancelled => "cancelled".to_string(),
        Failure::Because(reason) => reason,
    };
    Ok(SweepTable {
        axes,
        columns,
        failures: figures.into_iter().map(|case| case.err().map(reason)).collect(),
        ending: if cancelled { Ending::Cancelled } else { Ending::Finished },
    })
}

fn check(measures: &[Measure], options: &SweepOptions) -> Result<(), Error> {
    crate::parts::above_zero("hold", Time::from_si(options.hold))?;
    if options.threads == Some(0) {
        return Err(Error::option("threads", "0", "at least 1, or left out for as many as the machine has"));
    }
    if measures.is_empty() {
        return Err(Error::option("measures", "empty", "at least one measure"));
    }
    for (index, measure) in measures.iter().enumerate() {
        if measures[..index].iter().any(|other| other.name() == measure.name()) {
            let name = format!("\"{}\" twice", measure.name());
            return Err(Error::option("measures", &name, "different from each other"));
        }
    }
    Ok(())
}
