//! No nuisance trip, up to speed in time, battery not too low.

use super::super::DirectionRuns;
use super::{at, end, limited};
use crate::circuit::{Run, Signal};
use crate::drive::{Direction, Drive, Trips};
use crate::error::Error;
use crate::parts::TripBand;
use crate::report::{Check, Side, Verdict, quantity};

pub(super) fn checks(drive: &Drive, runs: &DirectionRuns) -> Result<Vec<Check>, Error> {
    let direction = runs.direction;
    let held = quantity(end(&runs.start), "s");
    Ok(vec![
        no_nuisance_trip(&runs.start, Some(runs.start.surge.trips), format!("start {direction}, held {held}"))?,
        no_nuisance_trip(&runs.reversal, None, reversal(direction))?,
        runs_for_ever(drive, runs)?,
        reaches_speed(drive, runs),
        battery_sag(drive, runs)?,
    ])
}

fn reversal(direction: Direction) -> String {
    format!("reversal from {direction} to {}", direction.opposite())
}

/// `trips` is what is known beyond the run itself: when its own breaker opened, the slowest device saw more.
fn no_nuisance_trip(run: &Run, trips: Option<Trips>, when: String) -> Result<Check, Error> {
    let reached = |edge: &str| -> Result<f64, Error> {
        Ok(run.extremes(&Signal::State("breaker".into(), format!("trip_fraction_{edge}")))?.max)
    };
    let (fastest, slowest) = (reached("fastest")?, reached("slowest")?);
    let basis = "fast edge of the trip band: the fastest device opens when its accumulated trip fraction reaches 1";
    let check = Check::against("No nuisance trip", fastest, Side::AtMost, 1.0, "1", basis, when);
    let own = if slowest >= 1.0 { Trips::Will } else { Trips::May };
    Ok(match trips.unwrap_or(if fastest >= 1.0 { own } else { Trips::No }) {
        Trips::No => check,
        Trips::May => check.judged(Verdict::May),
        Trips::Will => check.judged(Verdict::Fail),
    })
}

/// A running drive may be held as long as the user likes.
fn runs_for_ever(drive: &Drive, runs: &DirectionRuns) -> Result<Check, Error> {
    let requirement = "The running current never trips the breaker";
    let breaker = &drive.breaker;
    let [fastest, slowest] = [0.0, 1.0].map(|edge| breaker.trips_from(edge));
    let last = end(&runs.start);
    let current = runs.start.sample(&[last])?.current("breaker")?[0].abs();
    let when = format!("{} {}, {}", runs.held(), runs.direction, at(last));
    if let Some(why) = runs.held().unsettled() {
        return Ok(Check::missing(requirement, None, "A", why, when));
    }
    let basis = match &breaker.trip_band {
        TripBand::Points(_) => "pick-up of the fastest device: the first row of its curve times the rated current",
        TripBand::InverseTime(_) => "pick-up of the inverse-time curve: the rated current",
        TripBand::Thermal(_) => "pick-up of the thermal replica: trip_band.thermal.pick_up times the rated current",
    };
    let check = Check::against(requirement, current, Side::AtMost, fastest, "A", basis, when);
    Ok(if current > fastest && current <= slowest { check.judged(Verdict::May) } else { check })
}

fn reaches_speed(drive: &Drive, runs: &DirectionRuns) -> Check {
    let requirement = "The shaft reaches 95 % of its settled speed in time";
    let limit = drive.limits.time_to_speed.map(|limit| limit.si());
    let when = format!("start {}", runs.direction);
    match runs.start.surge.time_to_speed {
        Some(time) => {
            limited(requirement, time, Side::AtMost, limit, "s", ("limits.time_to_speed", "by the user"), when)
        }
        None => {
            let within = format!("not within the hold of {}", quantity(end(&runs.start), "s"));
            let check = Check::missing(requirement, None, "s", within, when);
            Check { limit, ..check.judged(Verdict::Fail) }
        }
    }
}

fn battery_sag(drive: &Drive, runs: &DirectionRuns) -> Result<Check, Error> {
    let lowest = runs.start.extremes(&Signal::Voltage("battery_positive".into()))?;
    let when = format!("start {}, {}", runs.direction, at(lowest.min_at));
    let limit = drive.limits.least_battery_voltage.map(|limit| limit.si());
    let name = ("limits.least_battery_voltage", "by the user");
    Ok(limited("The battery does not sag too far", lowest.min, Side::AtLeast, limit, "V", name, when))
}
