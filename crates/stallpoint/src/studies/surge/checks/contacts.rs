//! Making, carrying and breaking against the contactor's data sheet, and arcs that do not go out.

use super::super::facts::{Facts, Found};
use super::{at, limited};
use crate::drive::Drive;
use crate::quantity::Current;
use crate::report::{Check, Side, Verdict};

pub(super) fn checks(drive: &Drive, facts: &Facts) -> Vec<Check> {
    let contactor = &drive.contactor;
    let rating = |requirement: &str, found: Option<Found>, limit: Option<Current>, name: &str, key: &'static str| {
        let found = found?;
        let name = (&*format!("contactor.{name}"), "data sheet");
        let check = limited(requirement, found.value, Side::AtMost, limit.map(Current::si), "A", name, found.when);
        Some(check.keyed(key).at_time(found.time))
    };
    let carries = "The contactor carries the running current";
    let (making, breaking) = (contactor.making_current, contactor.breaking_current);
    let locked = facts.largest(|direction| &direction.locked_peak).clone();
    let locked = Found { when: locked.when.replacen(", at ", ", if released at ", 1), ..locked };
    let checks = [
        rating("The main contacts can make the surge", facts.made_by_main.clone(), making, "making_current", "making"),
        rating(
            "The rest contacts can make the braking current",
            facts.made_by_rest.clone(),
            making,
            "making_current",
            "rest_making",
        ),
        rating(carries, carried(facts), contactor.carrying_current, "carrying_current", "carrying").or_else(|| {
            let nothing = "in neither direction is there a settled state to look at";
            Some(Check::missing(carries, None, "A", nothing, "end of the hold").keyed("carrying"))
        }),
        rating(
            "The contactor can break the locked-rotor current",
            Some(locked),
            breaking,
            "breaking_current",
            "breaking",
        ),
    ];
    checks.into_iter().flatten().chain([arcs_go_out(facts)]).collect()
}

/// The largest current at the end of a hold, of those that are settled.
pub(crate) fn carried(facts: &Facts) -> Option<Found> {
    let settled = facts.directions.iter().filter(|direction| direction.held.unsettled().is_none());
    let currents = settled.map(|direction| Found {
        value: direction.motor_at_end,
        time: direction.hold,
        when: format!("{} {}, {}", direction.held, direction.direction, at(direction.hold)),
    });
    currents.reduce(|known, other| if other.value > known.value { other } else { known })
}

fn arcs_go_out(facts: &Facts) -> Check {
    let (stay, count) = &facts.arcs_that_stay;
    let (verdict, when) = match (stay, &facts.arc_that_lingers) {
        (Some(arc), _) => (Verdict::Fail, arc.clone()),
        (None, Some(arc)) => (Verdict::Marginal, arc.clone()),
        _ => (Verdict::Pass, "all runs".into()),
    };
    let basis = "an arc that burns on at full gap destroys its contact: none is allowed; one that outlives the full gap is marginal";
    let check = Check::whether("Every arc goes out", *count == 0, basis, when);
    Check { value: Some(*count as f64), ..check }.judged(verdict).keyed("arcs")
}
