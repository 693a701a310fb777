//! The requirements of a start and of the contacts.

mod coil;
mod contacts;
mod start;
mod volts;

pub(crate) use contacts::carried;
pub(crate) use start::judge_trip;

use super::facts::Facts;
use super::trips::DirectionTrips;
use crate::circuit::Run;
use crate::drive::Drive;
use crate::report::{Check, Side};

/// Requirements of both directions, then of the contacts.
pub(crate) fn checks(drive: &Drive, facts: &Facts, trips: &[DirectionTrips; 2]) -> Vec<Check> {
    let mut checks = Vec::new();
    for (direction, trips) in facts.directions.iter().zip(trips) {
        checks.extend(start::checks(drive, direction, trips));
        checks.extend(coil::checks(drive, direction));
        checks.extend(volts::checks(drive, direction));
    }
    checks.extend(contacts::checks(drive, facts));
    checks
}

/// A value against a limit that the description may lack; `name` is where the limit stands in the drive's file.
pub(crate) fn limited(
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
pub(super) fn event(run: &Run, part: &str, word: &str) -> Option<f64> {
    run.events.iter().find(|event| event.part == part && event.what.contains(word)).map(|event| event.time)
}

/// A time for a sentence.
pub(crate) fn at(time: f64) -> String {
    format!("at {}", crate::report::quantity(time, "s"))
}
