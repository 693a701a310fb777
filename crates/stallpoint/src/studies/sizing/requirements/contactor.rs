//! Duty of the contactor, ratings of the isolator.

use crate::drive::Drive;
use crate::parts::ContactorDuty;
use crate::quantity::Current;
use crate::report::{Check, Side, Verdict};
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
