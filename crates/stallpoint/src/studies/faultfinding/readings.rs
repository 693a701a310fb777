//! What every instrument shows on one drive.

use super::candidates::candidates;
use super::case::{Bench, Case};
use super::measurement::{Measurement, Observed, Tool};
use super::random::Random;
use super::snapshot::Behaviour;
use super::table::varied;
use crate::circuit::Signal;
use crate::drive::{Direction, Drive, StartOptions, largest};
use crate::error::Error;
use crate::parts::ClampAmmeter;

/// When something is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// Once all has settled; a mean while the contactor chatters.
    Steady,
    /// The largest value during the start.
    Surge,
}

impl std::fmt::Display for When {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(if *self == Self::Steady { "steady" } else { "surge" })
    }
}

/// What one instrument shows.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingRow {
    /// What is measured.
    pub measurement: Measurement,
    /// When.
    pub when: When,
    /// What it shows.
    pub shows: Observed,
    /// Two deviations, from meter and parameter spread; none for words.
    pub tolerance: Option<f64>,
    /// Anything to mind.
    pub note: String,
}

/// Drives drawn for a tolerance.
const DRAWS: usize = 12;
/// How long a start is watched, s.
const HOLD: f64 = 0.5;

/// What each instrument shows on a drive, healthy or not: each pair of points of common practice with the control at rest,
/// forward and reverse; the isolated drive; clicks and turns; and a peak-hold clamp during the start.
///
/// The tolerance is two deviations over drives drawn from their spread (`studies/faultfinding/spread.toml`: typical, no source)
/// with the meter's own accuracy (typical, no source).
///
/// Limits: steady readings are operating points; a peak-hold clamp reads below the true peak, as its row says.
///
/// # Errors
/// A description that cannot be a drive.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::faultfinding::{Held, Measurement, Tool, readings};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let rows = readings(&drive)?;
/// let lamp = Measurement::between(Tool::TestLamp, Held::AtRest, "supply_stud", "ground_stud");
/// let row = rows.iter().find(|row| row.measurement == lamp).unwrap();
/// assert_eq!(row.shows.to_string(), "bright");
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn readings(drive: &Drive) -> Result<Vec<ReadingRow>, Error> {
    let bench = Bench::of(drive)?;
    let list: Vec<Measurement> = candidates(drive).into_iter().filter(|m| bench.place(m).is_ok()).collect();
    let own = Case::of(drive, &bench);
    let drawn = (0..DRAWS as u64)
        .map(|k| Ok(Case::of(&varied(drive, None, &mut Random::of_case(7, k))?, &bench)))
        .collect::<Result<Vec<_>, Error>>()?;
    let mut rows = Vec::with_capacity(list.len() + 2);
    for measurement in list {
        let placed = bench.place(&measurement)?;
        let tool = measurement.tool;
        let code = own.shows(&placed, &bench);
        let tolerance = tool.words().is_empty().then(|| {
            let off = drawn.iter().map(|case| case.shows(&placed, &bench) - code).filter(|off| off.is_finite());
            let (mut sum, mut count) = (0.0, 0.0);
            off.for_each(|off| {
                sum += off * off;
                count += 1.0;
            });
            2.0 * (sum / f64::max(count, 1.0) + tool.deviation(code).powi(2)).sqrt()
        });
        let note = match own.behaviour(measurement.held) {
            Behaviour::Steady => "",
            Behaviour::Chatters => "a mean while the contactor chatters",
            Behaviour::Unknown => "could not be solved",
        };
        let shows = if code.is_nan() { Observed::Word("unknown".into()) } else { tool.observed(code) };
        let words = matches!(shows, Observed::Word(_));
        let tolerance = tolerance.filter(|_| !words).map(|half| tool.tolerance(&shows, half));
        rows.push(ReadingRow { measurement, when: When::Steady, shows, tolerance, note: note.into() });
    }
    for direction in Direction::BOTH {
        rows.extend(peak(drive, direction));
    }
    Ok(rows)
}

/// A peak-hold clamp round the breaker's wire during a start; none when the start cannot be made.
fn peak(drive: &Drive, direction: Direction) -> Option<ReadingRow> {
    let start = drive.start(direction, &StartOptions::hold(HOLD).ok()?).ok()?;
    let device = drive.protection().name();
    let shown = ClampAmmeter::default().peak_hold(&start.run, device, 0.0).ok()?;
    let (peak, _) = largest(&start.run.extremes(&Signal::Current(device.into())).ok()?);
    let held = if direction == Direction::Forward { super::Held::Forward } else { super::Held::Reverse };
    Some(ReadingRow {
        measurement: Measurement::between(Tool::Clamp, held, device, ""),
        when: When::Surge,
        shows: Tool::Clamp.observed(shown.reading.value.abs()),
        tolerance: None,
        note: format!("peak hold; the true peak is {}", crate::report::quantity(peak, "A")),
    })
}
