//! The requirements of a start and of the contacts.

mod battery;
mod coil;
mod contacts;
pub(super) mod joints;
mod start;
mod volts;
mod weld;

pub(crate) use contacts::carried;
pub(crate) use start::judge_trip;

use super::facts::{DirectionFacts, Facts};
use super::trips::DirectionTrips;
use crate::circuit::Run;
use crate::drive::Drive;
use crate::report::{Check, Side};

/// Requirements of both directions, then of the contacts.
pub(crate) fn checks(drive: &Drive, facts: &Facts, trips: &[DirectionTrips; 2]) -> Vec<Check> {
    let mut checks = Vec::new();
    for (direction, trips) in facts.directions.iter().zip(trips) {
        let mut own = start::checks(drive, direction, trips);
        own.extend(coil::checks(drive, direction));
        own.extend(volts::checks(drive, direction));
        checks.extend(own.into_iter().map(|check| if direction.pulls_in() { check } else { not_reached(check) }));
    }
    checks.extend(battery::stays_connected(drive, facts));
    let contacts = contacts::checks(drive, facts).into_iter().chain(weld::checks(drive, facts));
    let any = facts.directions.iter().any(DirectionFacts::pulls_in);
    checks.extend(contacts.map(|check| if any { check } else { not_reached(check) }));
    checks
}

/// What a drive whose contactor does not pull in says of a requirement: nothing, but of pull-in itself.
fn not_reached(check: Check) -> Check {
    if check.key == "pull_in" {
        return check;
    }
    let why = "not reached: the contactor does not pull in";
    Check::missing(check.requirement, None, check.unit, why, check.when).keyed(check.key)
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
