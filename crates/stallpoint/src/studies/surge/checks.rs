//! The requirements of a start and of the contacts.

use super::{DirectionRuns, PartPeaks};
use crate::circuit::{Run, Signal};
use crate::drive::{Drive, Trips};
use crate::error::Error;
use crate::report::{Check, Side, Verdict};

/// Requirements of a start in one direction.
pub(super) fn start(drive: &Drive, runs: &DirectionRuns) -> Result<Vec<Check>, Error> {
    let direction = runs.direction;
    let when = format!("start {direction}");
    Ok(vec![
        no_nuisance_trip(runs, &when)?,
        runs_for_ever(drive, runs)?,
        reaches_speed(drive, runs, &when),
        pulls_in(drive, runs, &when)?,
        holds(drive, runs, &when)?,
        stays_in(runs, &when),
        battery_sag(drive, runs, &when)?,
        voltage_drop(runs, "supply run", ("battery_positive", "supply_stud"), drive.limits.supply_drop, "supply_drop")?,
        voltage_drop(runs, "ground run", ("ground_stud", "battery_negative"), drive.limits.ground_drop, "ground_drop")?,
    ])
}

fn no_nuisance_trip(runs: &DirectionRuns, when: &str) -> Result<Check, Error> {
    let fastest = runs.start.extremes(&Signal::State("breaker".into(), "trip_fraction_fastest".into()))?;
    let when = format!("{when}, held {:.1} s", runs.start.time().last().unwrap_or(&0.0));
    let basis = "fast edge of the trip band: accumulated trip fraction of the fastest device";
    let check = Check::against("No nuisance trip", fastest.max, Side::AtMost, 1.0, "1", basis, when);
    Ok(match runs.start.surge.trips {
        Trips::No => check,
        Trips::May => check.judged(Verdict::May),
        Trips::Will => check.judged(Verdict::Fail),
    })
}

/// The running current stays below what the fastest device takes for an overload.
fn runs_for_ever(drive: &Drive, runs: &DirectionRuns) -> Result<Check, Error> {
    let end = runs.start.time().last().copied().unwrap_or(0.0);
    let current = runs.start.sample(&[end])?.current("breaker")?[0].abs();
    let limit = drive.breaker.trip_band.pick_up(0.0) * drive.breaker.rated_current.si();
    let requirement = "Running on does not trip the breaker";
    let basis = "pick-up of the fastest device of the trip band";
    Ok(Check::against(requirement, current, Side::AtMost, limit, "A", basis, settled(runs)))
}

/// Which state the end of the hold shows, and when.
fn settled(runs: &DirectionRuns) -> String {
    let end = runs.start.time().last().copied().unwrap_or(0.0);
    format!("{} {}, {end:.2} s", if runs.start.surge.stalled { "stalled" } else { "running" }, runs.direction)
}

/// No arc of contactor or breaker still burns when its contact is fully open.
fn arcs_go_out(directions: &[DirectionRuns]) -> Check {
    let mut persisting = Vec::new();
    for runs in directions {
        for (what, run) in runs.named() {
            let arcs = run.events.iter().filter(|event| event.what.contains("arc persists"));
            let power = arcs.filter(|event| event.part == "contactor" || event.part == "breaker");
            persisting
                .extend(power.map(|event| format!("{} in {what} {}, {:.4} s", event.part, runs.direction, event.time)));
        }
    }
    Check {
        requirement: "Every arc goes out before its contact is fully open".into(),
        value: Some(persisting.len() as f64),
        limit: Some(0.0),
        unit: "1",
        margin: None,
        verdict: if persisting.is_empty() { Verdict::Pass } else { Verdict::Fail },
        basis: "an arc that persists burns the contacts and keeps the circuit on".into(),
        when: if persisting.is_empty() { "all runs".into() } else { persisting.join("; ") },
    }
}

fn reaches_speed(drive: &Drive, runs: &DirectionRuns, when: &str) -> Check {
    let requirement = "The shaft reaches 95 % of its settled speed in time";
    match (runs.start.surge.time_to_speed, drive.limits.time_to_speed) {
        (Some(time), Some(limit)) => {
            Check::against(requirement, time, Side::AtMost, limit.si(), "s", "limits.time_to_speed, by the user", when)
        }
        (Some(time), None) => Check::missing(requirement, Some(time), "s", "limits.time_to_speed is missing", when),
        (None, limit) => Check {
            verdict: Verdict::Fail,
            limit: limit.map(|limit| limit.si()),
            ..Check::missing(requirement, None, "s", "the shaft does not get there within the hold", when)
        },
    }
}

/// From energising until the set makes, the coil's voltage against the hot coil's pull-in.
fn pulls_in(drive: &Drive, runs: &DirectionRuns, when: &str) -> Result<Check, Error> {
    let requirement = "The contactor pulls in with a hot coil";
    let sealed = event(&runs.start.run, "contactor", "makes");
    let coil = coil_voltage(runs);
    let lowest = runs.start.extremes_between(&coil, 0.0, sealed.unwrap_or(f64::INFINITY))?.min;
    let when = format!("{when}, until the set makes");
    Ok(match drive.limits.hot_coil_c {
        Some(hot) => {
            let limit = drive.contactor.pull_in_voltage_at(hot.si());
            let basis = format!(
                "pull-in voltage of the contactor with its coil at {hot}: data sheet times copper's resistance"
            );
            let check = Check::against(requirement, lowest, Side::AtLeast, limit, "V", basis, when);
            if sealed.is_none() { check.judged(Verdict::Fail) } else { check }
        }
        None => Check::missing(requirement, Some(lowest), "V", "limits.hot_coil_c is missing", when),
    })
}

/// After the set has made, the coil's lowest voltage against the highest drop-out.
fn holds(drive: &Drive, runs: &DirectionRuns, when: &str) -> Result<Check, Error> {
    let requirement = "The contactor holds through the surge";
    let Some(sealed) = event(&runs.start.run, "contactor", "makes") else {
        return Ok(Check::missing(requirement, None, "V", "the contactor does not pull in", when).judged(Verdict::Fail));
    };
    let lowest = runs.start.extremes_between(&coil_voltage(runs), sealed, f64::INFINITY)?;
    let contactor = &drive.contactor;
    let limit = contactor.highest_drop_out_voltage.unwrap_or(contactor.drop_out_voltage).si();
    let basis = "highest drop-out voltage of the contactor, data sheet";
    let when = format!("{when}, {:.4} s", lowest.min_at);
    Ok(Check::against(requirement, lowest.min, Side::AtLeast, limit, "V", basis, when))
}

fn stays_in(runs: &DirectionRuns, when: &str) -> Check {
    let dropouts = runs.start.surge.dropouts;
    Check {
        requirement: "The contactor does not let go and operate again while it is energised".into(),
        value: Some(dropouts as f64),
        limit: Some(0.0),
        unit: "1",
        margin: None,
        verdict: if dropouts == 0 { Verdict::Pass } else { Verdict::Fail },
        basis: "each re-operation makes and breaks the surge again: no drop-out is allowed".into(),
        when: when.into(),
    }
}

fn battery_sag(drive: &Drive, runs: &DirectionRuns, when: &str) -> Result<Check, Error> {
    let requirement = "The battery does not sag too far";
    let lowest = runs.start.extremes(&Signal::Voltage("battery_positive".into()))?;
    let when = format!("{when}, {:.4} s", lowest.min_at);
    Ok(match drive.limits.least_battery_voltage {
        Some(limit) => {
            let basis = "limits.least_battery_voltage, by the user";
            Check::against(requirement, lowest.min, Side::AtLeast, limit.si(), "V", basis, when)
        }
        None => Check::missing(requirement, Some(lowest.min), "V", "limits.least_battery_voltage is missing", when),
    })
}

fn voltage_drop(
    runs: &DirectionRuns,
    run: &str,
    (from, to): (&str, &str),
    limit: Option<crate::quantity::Fraction>,
    name: &str,
) -> Result<Check, Error> {
    let requirement = format!("The {run} does not drop too much voltage");
    let end = runs.start.time().last().copied().unwrap_or(0.0);
    let last = runs.start.sample(&[end])?;
    let open_circuit = last.state("battery", "open_circuit_voltage")?[0];
    let share = last.voltage_between(from, to)?[0] / open_circuit;
    let when = settled(runs);
    Ok(match limit {
        Some(limit) => {
            let basis = format!("limits.{name}, by the user, of the open-circuit voltage");
            Check::against(requirement, share, Side::AtMost, limit.si(), "1", basis, when)
        }
        None => Check::missing(requirement, Some(share), "1", format!("limits.{name} is missing"), when),
    })
}

/// Making, carrying and breaking against the contactor's data sheet.
pub(super) fn contacts(drive: &Drive, peaks: &[PartPeaks], directions: &[DirectionRuns]) -> Result<Vec<Check>, Error> {
    let contactor = &drive.contactor;
    let mut checks = Vec::new();
    // Main contacts make in every start; rest contacts when the armature falls back.
    let falls_back: &[&str] = &["release", "stalled release"];
    let starts: &[&str] = &["start", "stalled start", "reversal"];
    for (requirement, picks, runs) in [
        ("The main contacts can make the surge", "contact supply", starts),
        ("The rest contacts can make the braking current", "contact ground", falls_back),
    ] {
        let own = peaks.iter().filter(|part| part.part.starts_with(picks));
        let all = own.flat_map(|part| {
            part.peaks.iter().map(move |&(direction, run, current, time)| (part.part, direction, run, current, time))
        });
        let largest = all.filter(|peak| runs.contains(&peak.2)).max_by(|a, b| a.3.total_cmp(&b.3));
        let Some((contact, direction, run, current, time)) = largest else { continue };
        let when = format!("{contact}, {run} {direction}, {time:.4} s");
        checks.push(rating(requirement, current, contactor.making_current, "making_current", when));
    }
    let mut running: f64 = 0.0;
    let mut breaking = (0.0, String::new());
    for runs in directions {
        let end = runs.start.time().last().copied().unwrap_or(0.0);
        running = running.max(runs.start.sample(&[end])?.current("motor")?[0].abs());
        if let Some(breaks) = event(&runs.stalled_release, "contactor", "breaks") {
            let row = runs.stalled_release.sample(&[breaks])?;
            let current = row.current("motor")?[0].abs();
            if current > breaking.0 {
                breaking = (current, format!("stalled release {}, {breaks:.4} s", runs.direction));
            }
        }
    }
    let carrying = "The contactor carries the running current";
    checks.push(rating(carrying, running, contactor.carrying_current, "carrying_current", "running".into()));
    let breaks = "The contactor can break the locked-rotor current";
    checks.push(rating(breaks, breaking.0, contactor.breaking_current, "breaking_current", breaking.1));
    checks.push(arcs_go_out(directions));
    Ok(checks)
}

fn rating(requirement: &str, current: f64, limit: Option<crate::quantity::Current>, name: &str, when: String) -> Check {
    match limit {
        Some(limit) => {
            let basis = format!("contactor.{name}, data sheet");
            Check::against(requirement, current, Side::AtMost, limit.si(), "A", basis, when)
        }
        None => Check::missing(requirement, Some(current), "A", format!("contactor.{name} is missing"), when),
    }
}

fn coil_voltage(runs: &DirectionRuns) -> Signal {
    Signal::Between(format!("coil_{}", runs.direction.letter()), "coil_return".into())
}

/// Time of the first event of a part whose words contain `word`.
fn event(run: &Run, part: &str, word: &str) -> Option<f64> {
    run.events.iter().find(|event| event.part == part && event.what.contains(word)).map(|event| event.time)
}
