//! The requirements of a start and of the contacts.

mod coil;
mod contacts;
mod start;
mod volts;

use super::{DirectionRuns, PartPeaks};
use crate::circuit::Run;
use crate::drive::Drive;
use crate::error::Error;
use crate::report::{Check, Side};

/// Requirements of both directions, then of the contacts.
pub(super) fn checks(drive: &Drive, directions: &[DirectionRuns], peaks: &[PartPeaks]) -> Result<Vec<Check>, Error> {
    let mut checks = Vec::new();
    for runs in directions {
        checks.extend(start::checks(drive, runs)?);
        checks.extend(coil::checks(drive, runs)?);
        checks.extend(volts::checks(drive, runs)?);
    }
    checks.extend(contacts::checks(drive, directions, peaks)?);
    Ok(checks)
}

/// A value against a limit that the description may lack; `name` is where the limit stands in the drive's file.
fn limited(
    requirement: impl Into<String>,
    value: f64,
    side: Side,
    limit: Option<f64>,
    unit: &'static str,
    (name, by): (&str, &str),
    when: impl Into<String>,
) -> Check {
    match limit {
        Some(limit) => Check::against(requirement, value, side, limit, unit, format!("{name}, {by}"), when),
        None => Check::missing(requirement, Some(value), unit, format!("{name} is missing"), when),
    }
}

/// Time of the first event of a part whose words contain `word`.
fn event(run: &Run, part: &str, word: &str) -> Option<f64> {
    run.events.iter().find(|event| event.part == part && event.what.contains(word)).map(|event| event.time)
}

/// The last time of a run, s.
fn end(run: &Run) -> f64 {
    run.time().last().copied().unwrap_or(0.0)
}

/// A time for a sentence.
fn at(time: f64) -> String {
    format!("at {}", crate::report::quantity(time, "s"))
}
