//! No nuisance trip, up to speed in time, battery not too low.

use super::super::facts::DirectionFacts;
use super::super::trips::{DirectionTrips, Fractions};
use super::{at, limited};
use crate::drive::{Direction, Drive, Trips};
use crate::parts::TripBand;
use crate::report::{Check, Side, Verdict, quantity};

pub(super) fn checks(drive: &Drive, facts: &DirectionFacts, trips: &DirectionTrips) -> Vec<Check> {
    let direction = facts.direction;
    let held = quantity(facts.hold, "s");
    let start = no_nuisance_trip(&trips.start, format!("start {direction}, held {held}"));
    let mut all = vec![start, no_nuisance_trip(&trips.reversal, reversal(direction))];
    all.extend(melts_no_fuse(drive, facts, trips));
    all.extend([runs_for_ever(drive, facts), reaches_speed(drive, facts), battery_sag(drive, facts)]);
    all
}

/// A start of less than the fastest fuse's melting I²t melts no fuse, however short it is; a reversal is judged by the gates
/// alone. One of more may still be too slow
/// to melt it, since heat gets out meanwhile: then the fuse's gates decide.
fn melts_no_fuse(drive: &Drive, facts: &DirectionFacts, trips: &DirectionTrips) -> Option<Check> {
    let [fastest, slowest] = drive.protection().melting_i2t()?;
    let requirement = "The start's i²t is below the fuse's melting I²t";
    let when = format!("start {}; a slow fuse has {slowest:.0} A²s", facts.direction);
    let basis = "melting I²t of the fastest fuse: its time at the band's last row, taken as heat without loss";
    let check = Check::against(requirement, facts.surge_i2t, Side::AtMost, fastest, "A2 s", basis, when);
    let beyond =
        || "more than the fastest fuse's melting I²t; the surge is so slow that the gates decide (nuisance trip)";
    let check = match trips.start.trips() {
        _ if facts.surge_i2t <= fastest => check,
        Trips::No => Check { basis: beyond().into(), ..check.judged(Verdict::Marginal) },
        Trips::May => check.judged(Verdict::May),
        Trips::Will => check.judged(Verdict::Fail),
    };
    Some(check.keyed("surge_i2t"))
}

fn reversal(direction: Direction) -> String {
    format!("reversal from {direction} to {}", direction.opposite())
}

fn no_nuisance_trip(reached: &Fractions, when: String) -> Check {
    let basis = "fast edge of the trip band: the fastest device opens when its accumulated trip fraction reaches 1";
    judge_trip(reached, "No nuisance trip", basis, when).keyed("nuisance_trip")
}

/// The fastest device's fraction against 1; fail where even the slowest device opens, may where only a fast one does.
pub(crate) fn judge_trip(reached: &Fractions, requirement: &str, basis: &str, when: String) -> Check {
    let check = Check::against(requirement, reached.fastest, Side::AtMost, 1.0, "1", basis, when);
    match reached.trips() {
        Trips::No => check,
        Trips::May => check.judged(Verdict::May),
        Trips::Will => check.judged(Verdict::Fail),
    }
}

/// A running drive may be held as long as the user likes.
fn runs_for_ever(drive: &Drive, facts: &DirectionFacts) -> Check {
    let device = drive.protection();
    let requirement = format!("The running current never {} the {}", device.opens(), device.name());
    let [fastest, slowest] = [0.0, 1.0].map(|edge| device.trips_from(edge));
    let current = facts.breaker_at_end;
    let when = format!("{} {}, {}", facts.held, facts.direction, at(facts.hold));
    if let Some(why) = facts.held.unsettled() {
        return Check::missing(requirement, None, "A", why, when).keyed("running_trip");
    }
    let basis = match device.band() {
        TripBand::Points(_) => "pick-up of the fastest device: the first row of its curve times the rated current",
        TripBand::InverseTime(_) => "pick-up of the inverse-time curve: the rated current",
        TripBand::Thermal(_) => "pick-up of the thermal replica: trip_band.thermal.pick_up times the rated current",
    };
    let check = Check::against(requirement, current, Side::AtMost, fastest, "A", basis, when);
    let check = if current > fastest && current <= slowest { check.judged(Verdict::May) } else { check };
    check.keyed("running_trip").at_time(facts.hold)
}

fn reaches_speed(drive: &Drive, facts: &DirectionFacts) -> Check {
    let requirement = "The shaft reaches 95 % of its settled speed in time";
    let limit = drive.limits.time_to_speed.map(|limit| limit.si());
    let when = format!("start {}", facts.direction);
    let check = match facts.time_to_speed {
        Some(time) => {
            limited(requirement, time, Side::AtMost, limit, "s", ("limits.time_to_speed", "by the user"), when)
                .at_time(time)
        }
        None => {
            let within = format!("not within the hold of {}", quantity(facts.hold, "s"));
            let check = Check::missing(requirement, None, "s", within, when);
            Check { limit, ..check.judged(Verdict::Fail) }
        }
    };
    check.keyed("time_to_speed")
}

fn battery_sag(drive: &Drive, facts: &DirectionFacts) -> Check {
    let lowest = &facts.supply.sag;
    let limit = drive.limits.least_battery_voltage.map(|limit| limit.si());
    let name = ("limits.least_battery_voltage", "by the user");
    let when = lowest.when.clone();
    limited("The battery does not sag too far", lowest.value, Side::AtLeast, limit, "V", name, when)
        .keyed("battery_sag")
        .at_time(lowest.time)
}
