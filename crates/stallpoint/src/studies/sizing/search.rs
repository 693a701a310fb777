//! The search: every combination of the choices in every corner.

use std::collections::{BTreeSet, HashMap};
use std::sync::atomic::AtomicBool;

use serde_json::Value;

use super::assess::worst_by_key;
use super::candidates::{Choice, Row, check, combination};
use super::corners::Corner;
use super::evidence::{Evidence, Statics};
use super::mass::conductor_mass;
use super::options::SizingOptions;
use super::outcome::{Candidate, Outcome, State, best, pareto};
use super::parallel::{each, stopped};
use super::ratings::{circuit_key, without_ratings};
use super::requirements::{Case, Protection};
use super::trips::{Reached, reached};
use crate::circuit::{Flow, Watcher};
use crate::drive::Drive;
use crate::error::Error;
use crate::parts::{Breaker, Fuse};
use crate::quantity::ConductorSize;
use crate::report::{Check, Verdict};
use crate::studies::sweep::paths::put;

/// What of a cable its ampacity is for.
const DECIDE: [&str; 3] = ["cross_section", "conductor", "insulation"];

/// Transients of one circuit: five runs each way.
const TRANSIENTS: usize = 10;

/// Tries every combination of the choices with the default settings.
///
/// # Errors
/// As for [`size_with`].
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sizing::{Choice, size};
///
/// // The winch's control has a timer: no breaker of this band protects the winding alone.
/// let drive = Drive::from_toml_str(BOAT_LIFT)?.with_values([("limits.longest_hold", "15 s")])?;
/// let found = size(&drive, &[Choice::list("breaker.rated_current", ["50 A", "80 A"])])?;
/// assert_eq!(found.best().unwrap().names, ["80 A"]);
/// assert!(found.candidates[0].reasons()[0].contains("running current"));
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn size(drive: &Drive, choices: &[Choice]) -> Result<Outcome, Error> {
    size_with(drive, choices, &SizingOptions::default(), &mut |_| Flow::Continue)
}

/// One candidate in one corner.
struct Item {
    candidate: usize,
    corner: usize,
    drive: Drive,
    /// Its circuit without ratings, and that as text.
    bare: Drive,
    key: String,
    /// Cables whose ampacity is that of the cable described, not of this one.
    lost: Vec<String>,
}

/// Items that share a circuit.
struct Group {
    items: Vec<usize>,
}

/// Tries every combination of the choices in every corner: which fit, which of them no other beats, which is best, and why the
/// others do not. The breaker is held closed in the runs and its integrals are taken from the currents afterwards, so that one
/// run serves every breaker, contactor and cable that differ in their ratings alone.
///
/// A candidate that cannot be made or run is rejected with the reason. The same answer for any number of threads.
///
/// # Errors
/// A description that cannot be a drive; no choices, or an empty one; a key or value that does not read; threads that the
/// system does not grant; [`Error::Cancelled`] when the watcher stops it.
pub fn size_with(
    drive: &Drive,
    choices: &[Choice],
    options: &SizingOptions,
    watcher: Watcher,
) -> Result<Outcome, Error> {
    drive.check()?;
    options.requirements.check()?;
    check(drive, choices)?;
    let nominal = [Corner::as_described()];
    let corners = if options.corners.is_empty() { &nominal[..] } else { &options.corners };
    for corner in corners {
        corner.apply(drive)?;
    }
    let count = choices.iter().map(|choice| choice.rows.len()).product::<usize>();
    let total = count * corners.len();
    let description = drive.to_value()?;
    let made = each(total, options.threads, (0.0, 0.05), watcher, |number, _| {
        item(&description, choices, corners, number / corners.len(), number % corners.len())
    })?;
    let (mut items, mut failures): (Vec<Item>, Vec<Option<String>>) = (Vec::new(), vec![None; count]);
    for (number, item) in made.into_iter().enumerate() {
        match item {
            Ok(item) => items.push(item),
            Err(error) => note(&mut failures[number / corners.len()], &corners[number % corners.len()], &error),
        }
    }
    let groups = grouped(&items, options.share);

    let statics = each(groups.len(), options.threads, (0.05, 0.15), watcher, |group, _| {
        let members: Vec<&Item> = groups[group].items.iter().map(|&item| &items[item]).collect();
        judge_statics(&members, options)
    })?;
    let mut checks: Vec<Vec<Check>> = vec![Vec::new(); count];
    for (group, found) in groups.iter().zip(&statics) {
        for (place, item) in group.items.iter().map(|&item| &items[item]).enumerate() {
            match found {
                Ok((_, found)) => {
                    let found = found[place].iter().cloned();
                    checks[item.candidate].extend(found.map(|check| corners[item.corner].mark(check)));
                }
                Err(error) => note(&mut failures[item.candidate], &corners[item.corner], error),
            }
        }
    }
    let run: Vec<bool> =
        (0..count).map(|k| failures[k].is_none() && !(options.bounds && checks[k].iter().any(Check::broken))).collect();
    let live: Vec<usize> =
        (0..groups.len()).filter(|&group| groups[group].items.iter().any(|&item| run[items[item].candidate])).collect();
    let judged = each(live.len(), options.threads, (0.15, 1.0), watcher, |number, stop| {
        let group = live[number];
        let members = groups[group].items.iter().map(|&item| &items[item]).filter(|item| run[item.candidate]);
        match &statics[group] {
            Ok((statics, _)) => judge_group(&members.collect::<Vec<_>>(), statics, options, stop),
            Err(_) => Ok(Vec::new()), // told above
        }
    })?;
    for (number, judged) in judged.into_iter().enumerate() {
        let members = groups[live[number]].items.iter().map(|&item| &items[item]).filter(|item| run[item.candidate]);
        match judged {
            Ok(found) => {
                for (item, found) in members.zip(found) {
                    checks[item.candidate].extend(found.into_iter().map(|check| corners[item.corner].mark(check)));
                }
            }
            Err(error) => members.for_each(|item| note(&mut failures[item.candidate], &corners[item.corner], &error)),
        }
    }

    let masses = masses(&items, count);
    let candidates: Vec<Candidate> = checks
        .iter()
        .zip(failures)
        .enumerate()
        .map(|(k, (checks, failure))| candidate(&combination(choices, k), checks, failure, masses[k], run[k]))
        .collect();
    let of = |state: State| (0..count).filter(|&k| candidates[k].state == state).collect::<Vec<_>>();
    let (fits, unproven) = (of(State::Fits), of(State::Unproven));
    let eligible = if fits.is_empty() { unproven } else { fits };
    let mut notes = common(&candidates);
    let lost: BTreeSet<&String> = items.iter().flat_map(|item| &item.lost).collect();
    notes.extend(lost.into_iter().map(|cable| {
        format!(
            "{cable}.ampacity is that of the cable described; of another cross-section, metal or insulation it is not known: give \
             each its own, in a catalogue"
        )
    }));
    Ok(Outcome {
        notes,
        choices: choices.iter().map(|choice| choice.name.clone()).collect(),
        pareto: pareto(&candidates, &eligible),
        best: best(&candidates, &eligible, options.rule),
        candidates,
        rule: options.rule,
        cases: total,
        circuits: live.len(),
        transients: TRANSIENTS * live.len(),
    })
}

/// Requirements that every candidate breaks alike: what was varied does not decide them.
fn common(candidates: &[Candidate]) -> Vec<String> {
    let broken = |candidate: &Candidate| -> Vec<(String, String)> {
        candidate.broken().iter().map(|check| (check.key.to_string(), check.requirement.clone())).collect()
    };
    let mut judged = candidates.iter().filter(|candidate| candidate.failure.is_none() && candidate.run);
    let Some(first) = judged.next() else { return Vec::new() };
    let mut all = broken(first);
    let mut others = 0;
    for other in judged {
        let own = broken(other);
        all.retain(|(key, _)| own.iter().any(|(other, _)| other == key));
        others += 1;
    }
    all.retain(|_| others > 0);
    all.into_iter()
        .map(|(key, requirement)| {
            format!(
                "every candidate breaks \"{requirement}\": it does not hang on what was varied; change the drive, or leave it out as \
                 \"{key}\""
            )
        })
        .collect()
}

/// The first reason why a candidate cannot be judged.
fn note(failure: &mut Option<String>, corner: &Corner, error: &Error) {
    let place = if corner.name.is_empty() { "as described" } else { &corner.name };
    failure.get_or_insert_with(|| format!("cannot be judged ({place}): {error}"));
}

/// The drive of a candidate in a corner.
fn item(
    description: &Value,
    choices: &[Choice],
    corners: &[Corner],
    candidate: usize,
    corner: usize,
) -> Result<Item, Error> {
    let mut own = description.clone();
    let rows = combination(choices, candidate);
    let chosen = rows.iter().flat_map(|row| &row.values);
    for (key, value) in chosen.chain(&corners[corner].values) {
        let unknown = || Error::Value { key: key.clone(), problem: "the drive has no such table".into() };
        put(&mut own, key, value).ok_or_else(unknown)?;
    }
    let lost = without_own_ampacity(description, &rows);
    for cable in &lost {
        put(&mut own, &format!("{cable}.ampacity"), &Value::Null);
    }
    let drive = Drive::from_value(own)?;
    let bare = without_ratings(&drive)?;
    Ok(Item { candidate, corner, key: circuit_key(&bare)?, drive, bare, lost })
}

/// Cables that are chosen other than described, without an ampacity of their own: the one described is that of another cable.
fn without_own_ampacity(description: &Value, rows: &[&Row]) -> Vec<String> {
    let chosen = |key: &str| rows.iter().flat_map(|row| &row.values).rfind(|(own, _)| own == key);
    let other = |cable: &str, field: &str| {
        let described = &description[cable][field];
        chosen(&format!("{cable}.{field}")).is_some_and(|(_, value)| match field {
            // "16 mm2" is 1.6e-5.
            "cross_section" => size_of(value) != size_of(described),
            _ => value != described,
        })
    };
    let cables = description.as_object().into_iter().flatten();
    let rated = cables.filter(|(_, part)| !part["ampacity"].is_null()).map(|(cable, _)| cable);
    let stale = rated.filter(|cable| DECIDE.iter().any(|field| other(cable, field)));
    stale.filter(|cable| chosen(&format!("{cable}.ampacity")).is_none()).cloned().collect()
}

fn size_of(value: &Value) -> Option<ConductorSize> {
    serde_json::from_value(value.clone()).ok()
}

/// Items by their circuits, in the order in which those first appear.
fn grouped(items: &[Item], share: bool) -> Vec<Group> {
    let mut places: HashMap<&str, usize> = HashMap::new();
    let mut groups: Vec<Group> = Vec::new();
    for (number, item) in items.iter().enumerate() {
        let fresh = groups.len();
        let place = if share { *places.entry(&item.key).or_insert(fresh) } else { fresh };
        if place == fresh {
            groups.push(Group { items: Vec::new() });
        }
        groups[place].items.push(number);
    }
    groups
}

/// What needs no transient, of everyone who shares a circuit.
fn judge_statics(members: &[&Item], options: &SizingOptions) -> Result<(Statics, Vec<Vec<Check>>), Error> {
    let Some(first) = members.first() else {
        return Err(Error::option("candidates", "none in a group", "at least one")); // a group has members
    };
    let statics = Statics::of(&first.bare, &options.surge.joint)?;
    let mut known: Vec<(&Drive, Protection)> = Vec::new();
    let mut all = Vec::with_capacity(members.len());
    for item in members {
        let place = known.iter().position(|(drive, _)| Protection::shared(drive, &item.drive));
        let place = place.unwrap_or_else(|| {
            known.push((&item.drive, Protection::of(&item.drive, &statics)));
            known.len() - 1
        });
        all.push(options.requirements.statics(&item.drive, &statics, &known[place].1));
    }
    Ok((statics, all))
}

/// The protection of a drive: one of the two.
type Device<'a> = (&'a Option<Breaker>, &'a Option<Fuse>);

/// Runs a circuit and judges everyone who shares it.
fn judge_group(
    members: &[&Item],
    statics: &Statics,
    options: &SizingOptions,
    stop: &AtomicBool,
) -> Result<Vec<Vec<Check>>, Error> {
    let Some(first) = members.first() else { return Ok(Vec::new()) };
    let evidence = Evidence::of(&first.bare, statics.clone(), options, &mut stopped(stop))?;
    let mut known: Vec<(Device, [Reached; 2])> = Vec::new();
    let mut all = Vec::with_capacity(members.len());
    for item in members {
        let device = (&item.drive.breaker, &item.drive.fuse);
        let trips = match known.iter().find(|(own, _)| *own == device) {
            Some((_, trips)) => *trips,
            None => {
                let trips = reached(&item.drive.protection(), &evidence.facts, options);
                known.push((device, trips));
                trips
            }
        };
        all.push(options.requirements.runs(&Case { drive: &item.drive, evidence: &evidence, trips: &trips }));
    }
    Ok(all)
}

/// Mass of the conductors of each candidate, kg, in its first corner.
fn masses(items: &[Item], count: usize) -> Vec<f64> {
    let mut masses = vec![f64::NAN; count];
    for item in items.iter().rev() {
        masses[item.candidate] = conductor_mass(&item.drive);
    }
    masses
}

fn candidate(rows: &[&Row], checks: &[Check], failure: Option<String>, mass: f64, run: bool) -> Candidate {
    let checks = worst_by_key(checks);
    let state = match () {
        () if failure.is_some() || checks.iter().any(Check::broken) => State::Rejected,
        () if checks.iter().any(|check| check.verdict == Verdict::NotChecked) => State::Unproven,
        () => State::Fits,
    };
    let prices: Option<Vec<f64>> = rows.iter().map(|row| row.price).collect();
    Candidate {
        names: rows.iter().map(|row| row.name.clone()).collect(),
        price: prices.map(|prices| prices.iter().sum()),
        mass: mass + rows.iter().filter_map(|row| row.mass).sum::<f64>(),
        state,
        margin: checks.iter().filter_map(|check| check.margin).reduce(f64::min),
        checks,
        failure,
        run,
    }
}
