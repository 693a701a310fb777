//! Duty of the contactor, ratings of the isolator.

use crate::drive::Drive;
use crate::parts::ContactorDuty;
use crate::quantity::{Current, Time};
use crate::report::{Check, Side, Verdict};
use crate::studies::sizing::evidence::Statics;
use crate::studies::surge::Facts;
use crate::studies::surge::checks::{carried, limited};

/// A contactor for continuous duty may be held for ever, an intermittent one for its longest on-time.
pub(super) fn duty(drive: &Drive) -> Check {
    let requirement = "The contactor may be held as long as the control can be";
    let hold = drive.limits.longest_hold.map(|hold| hold.si());
    let when = "control held";
    let check = match (drive.contactor.duty, hold, drive.limits.contactor_on_time) {
        (None, ..) => Check::missing(requirement, hold, "s", "contactor.duty is missing", when),
        (Some(ContactorDuty::Continuous), ..) => {
            let basis = "contactor.duty is continuous, data sheet";
            Check::missing(requirement, hold, "s", basis, when).judged(Verdict::Pass)
        }
        (Some(ContactorDuty::Intermittent), Some(hold), Some(limit)) => {
            let basis = "limits.contactor_on_time, data sheet, against limits.longest_hold";
            Check::against(requirement, hold, Side::AtMost, limit.si(), "s", basis, when)
        }
        (Some(ContactorDuty::Intermittent), None, _) => {
            let missing = "limits.longest_hold is missing, and the contactor is for intermittent duty";
            Check::missing(requirement, None, "s", missing, when)
        }
        (Some(ContactorDuty::Intermittent), hold, None) => {
            let missing = "limits.contactor_on_time is missing, and the contactor is for intermittent duty";
            Check::missing(requirement, hold, "s", missing, when)
        }
    };
    check.keyed("contactor_duty")
}

/// The closed contacts stand what the slowest breaker lets through, stalled and with the motor studs shorted: its `i² t` against
/// that of the data sheet. A stall lasts no longer than the longest hold; currents up to the carrying rating may last for ever.
///
/// Limits: steady currents; that of a stall as it begins.
pub(super) fn withstand(drive: &Drive, statics: &Statics) -> Vec<Check> {
    let limits = &drive.limits;
    let given = limits.contactor_withstand_current.zip(limits.contactor_withstand_time);
    let hold = limits.longest_hold.map_or(f64::INFINITY, |hold| hold.si());
    let mut checks = Vec::new();
    for (locked, short) in statics.locked.iter().zip(statics.stud_short) {
        let stalled = (locked.motor[0].1, format!("stalled {}", locked.direction), hold);
        let shorted = (short, format!("motor studs shorted, {}", locked.direction), f64::INFINITY);
        for (current, when, ends) in [stalled, shorted] {
            checks.push(let_through(drive, given, current, when, ends).keyed("contactor_withstand"));
        }
    }
    checks
}

fn let_through(drive: &Drive, given: Option<(Current, Time)>, current: f64, when: String, ends: f64) -> Check {
    let requirement =
        format!("The contactor's contacts stand what the slowest {} lets through", drive.protection().name());
    let when = format!("{when}: {current:.0} A");
    let lasts = drive.protection().trip_time(1.0, current).unwrap_or(f64::INFINITY).min(ends);
    let i2t = Some(current * current * lasts).filter(|i2t| i2t.is_finite());
    if drive.contactor.carrying_current.is_some_and(|rating| current <= rating.si()) {
        let basis = "no more than contactor.carrying_current, data sheet";
        return Check::missing(requirement, i2t, "A2 s", basis, when).judged(Verdict::Pass);
    }
    let Some((rating, time)) = given else {
        let missing = "limits.contactor_withstand_current and limits.contactor_withstand_time are missing";
        return Check::missing(requirement, i2t, "A2 s", missing, when);
    };
    let limit = rating.si() * rating.si() * time.si();
    let basis =
        format!("limits.contactor_withstand_current, data sheet: {rating} for {time}; slow edge of the trip band");
    match i2t {
        Some(i2t) => Check::against(requirement, i2t, Side::AtMost, limit, "A2 s", basis, when),
        None => {
            let basis = format!("{basis}, which never trips at this current");
            let check = Check::missing(requirement, None, "A2 s", basis, when).judged(Verdict::Fail);
            Check { limit: Some(limit), ..check }
        }
    }
}

/// The isolator makes the surge when it is closed on a held control, carries the running current, and breaks a stall.
pub(super) fn isolator(drive: &Drive, facts: &Facts) -> Vec<Check> {
    let limits = &drive.limits;
    let surge = facts.largest(|direction| &direction.breaker_peak);
    let locked = facts.largest(|direction| &direction.locked_peak);
    let rating = |requirement: &str, value: f64, when: &str, limit: Option<Current>, name: &str, key: &'static str| {
        let name = (name, "data sheet");
        limited(requirement, value, Side::AtMost, limit.map(Current::si), "A", name, when).keyed(key)
    };
    let carries = "The isolator carries the running current";
    let (making, breaking) = ("limits.isolator_making", "limits.isolator_breaking");
    vec![
        rating(
            "The isolator can make the surge",
            surge.value,
            &surge.when,
            limits.isolator_making,
            making,
            "isolator_making",
        )
        .at_time(surge.time),
        match carried(facts) {
            Some(found) => {
                let limit = limits.isolator_carrying;
                rating(carries, found.value, &found.when, limit, "limits.isolator_carrying", "isolator_carrying")
            }
            None => {
                let nothing = "in neither direction is there a settled state to look at";
                Check::missing(carries, None, "A", nothing, "end of the hold").keyed("isolator_carrying")
            }
        },
        rating(
            "The isolator can break the locked-rotor current",
            locked.value,
            &locked.when,
            limits.isolator_breaking,
            breaking,
            "isolator_breaking",
        )
        .at_time(locked.time),
    ]
}
