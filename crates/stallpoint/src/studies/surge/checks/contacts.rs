//! Making, carrying and breaking against the contactor's data sheet, and arcs that do not go out.

use super::super::{DirectionRuns, PartPeaks};
use super::{at, end, event, limited};
use crate::circuit::{Run, Signal};
use crate::drive::{Drive, largest};
use crate::error::Error;
use crate::report::{Check, Side, Verdict, quantity};

/// A current and when it flows.
type Found = (f64, String);

pub(super) fn checks(drive: &Drive, directions: &[DirectionRuns], peaks: &[PartPeaks]) -> Result<Vec<Check>, Error> {
    let contactor = &drive.contactor;
    let (making, carrying, breaking) =
        (contactor.making_current, contactor.carrying_current, contactor.breaking_current);
    let rating = |requirement: &str, found: Option<Found>, limit: Option<crate::quantity::Current>, name: &str| {
        let (current, when) = found?;
        let name = (&*format!("contactor.{name}"), "data sheet");
        Some(limited(requirement, current, Side::AtMost, limit.map(|i| i.si()), "A", name, when))
    };
    let carries = "The contactor carries the running current";
    let checks = [
        rating("The main contacts can make the surge", made_by_main(peaks), making, "making_current"),
        rating("The rest contacts can make the braking current", made_by_rest(directions)?, making, "making_current"),
        rating(carries, carried(directions)?, carrying, "carrying_current").or_else(|| {
            let nothing = "in neither direction is there a settled state to look at";
            Some(Check::missing(carries, None, "A", nothing, "end of the hold"))
        }),
        rating("The contactor can break the locked-rotor current", broken(directions)?, breaking, "breaking_current"),
    ];
    Ok(checks.into_iter().flatten().chain([arcs_go_out(directions)]).collect())
}

/// The largest current of a main contact: whatever flows in it was made by it.
fn made_by_main(peaks: &[PartPeaks]) -> Option<Found> {
    let mains = peaks.iter().filter(|part| part.part.starts_with("contact supply"));
    let largest = mains.filter_map(|part| part.largest().map(|peak| (part.part, peak)));
    let (contact, (direction, run, current, time)) = largest.max_by(|a, b| a.1.2.total_cmp(&b.1.2))?;
    Some((current, format!("{contact}, {run} {direction}, {}", at(time))))
}

/// The largest current after a rest contact has closed on a turning motor, until a set leaves ground again. A rest contact
/// that stays closed carries the surge without making it.
fn made_by_rest(directions: &[DirectionRuns]) -> Result<Option<Found>, Error> {
    let mut found: Option<Found> = None;
    for runs in directions {
        let letter = runs.direction.letter();
        let closes = format!("set {} back on ground", letter.to_uppercase());
        let signal = Signal::State("contactor".into(), format!("ground_{letter}_current"));
        let after: [(&str, &Run); 3] =
            [("release", &runs.release), ("stalled release", &runs.stalled_release), ("reversal", &runs.reversal)];
        for (what, run) in after {
            let Some(closed) = event(run, "contactor", &closes) else { continue };
            let leaves = |e: &&crate::circuit::Event| {
                e.part == "contactor" && e.time > closed && e.what.contains("leaves ground")
            };
            let until = run.events.iter().find(leaves).map_or(f64::INFINITY, |e| e.time);
            let (current, time) = largest(&run.extremes_between(&signal, closed, until)?);
            if found.as_ref().is_none_or(|(known, _)| current > *known) {
                let contact = format!("contact ground to motor {}", letter.to_uppercase());
                found = Some((current, format!("{contact}, {what} {}, {}", runs.direction, at(time))));
            }
        }
    }
    Ok(found)
}

/// The largest current at the end of a hold, of those that are settled.
fn carried(directions: &[DirectionRuns]) -> Result<Option<Found>, Error> {
    let mut found: Option<Found> = None;
    for runs in directions.iter().filter(|runs| runs.held().unsettled().is_none()) {
        let last = end(&runs.start);
        let current = runs.start.sample(&[last])?.current("motor")?[0].abs();
        if found.as_ref().is_none_or(|(known, _)| current > *known) {
            found = Some((current, format!("{} {}, {}", runs.held(), runs.direction, at(last))));
        }
    }
    Ok(found)
}

/// The most that a release of a stalled motor could break.
fn broken(directions: &[DirectionRuns]) -> Result<Option<Found>, Error> {
    let mut found: Option<Found> = None;
    for runs in directions {
        let (current, time) = largest(&runs.stalled.extremes(&Signal::Current("motor".into()))?);
        if found.as_ref().is_none_or(|(known, _)| current > *known) {
            found = Some((current, format!("stalled start {}, if released {}", runs.direction, at(time))));
        }
    }
    Ok(found)
}

/// Arcs that burn on at the full gap: until the end of the run, or for a while.
fn arcs_go_out(directions: &[DirectionRuns]) -> Check {
    let (mut stay, mut linger) = (Vec::new(), Vec::new());
    for runs in directions {
        for (what, run) in runs.named() {
            for (k, arc) in run.events.iter().enumerate() {
                let Some((_, site)) = arc.what.split_once(" at full gap") else { continue };
                let gone = format!("arc goes out{site}");
                let mut later = run.events[k..].iter();
                match later.find(|event| event.part == arc.part && event.what == gone) {
                    None => stay.push(format!("first: {arc}, {what} {}", runs.direction)),
                    Some(out) => linger.push(format!(
                        "{arc}, {what} {}, goes out {} later",
                        runs.direction,
                        quantity(out.time - arc.time, "s")
                    )),
                }
            }
        }
    }
    let (verdict, when) = match (stay.first(), linger.first()) {
        (Some(arc), _) => (Verdict::Fail, arc.clone()),
        (None, Some(arc)) => (Verdict::Marginal, arc.clone()),
        _ => (Verdict::Pass, "all runs".into()),
    };
    Check {
        requirement: "Every arc goes out".into(),
        value: Some(stay.len() as f64),
        limit: Some(0.0),
        unit: "1",
        margin: None,
        verdict,
        basis: "an arc that burns on at full gap destroys its contact: none is allowed; one that outlives the full gap is marginal"
            .into(),
        when,
    }
}
