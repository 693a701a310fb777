//! The contactor pulls in, holds, and does not let go and operate again.

use super::super::DirectionRuns;
use super::{at, event};
use crate::circuit::{Run, Signal};
use crate::drive::{Direction, Drive};
use crate::error::Error;
use crate::report::{Check, Side, Verdict, quantity};

pub(super) fn checks(drive: &Drive, runs: &DirectionRuns) -> Result<Vec<Check>, Error> {
    Ok(vec![pulls_in(drive, runs)?, holds(drive, runs)?, stays_in(runs)])
}

/// From energising until the set makes, the coil's voltage against the hot coil's pull-in.
fn pulls_in(drive: &Drive, runs: &DirectionRuns) -> Result<Check, Error> {
    let requirement = "The contactor pulls in with a hot coil";
    let makes = event(&runs.start, "contactor", "makes");
    let until = makes.unwrap_or(f64::INFINITY);
    let lowest = runs.start.extremes_between(&coil_voltage(runs.direction), 0.0, until)?.min;
    let when = format!("start {}, until the set makes", runs.direction);
    let check = match drive.limits.hot_coil_c {
        Some(hot) => {
            let limit = drive.contactor.pull_in_voltage_at(hot.si());
            let basis = format!("contactor.pull_in_voltage, data sheet, with the coil's copper at {hot}");
            Check::against(requirement, lowest, Side::AtLeast, limit, "V", basis, when)
        }
        None => Check::missing(requirement, Some(lowest), "V", "limits.hot_coil_c is missing", when),
    };
    Ok(match makes {
        Some(_) => check,
        None => {
            Check { basis: format!("{}; the set does not make at all", check.basis), ..check }.judged(Verdict::Fail)
        }
    })
}

/// After the set has made, the coil's lowest voltage in any run against the highest drop-out of a hot coil.
fn holds(drive: &Drive, runs: &DirectionRuns) -> Result<Check, Error> {
    let requirement = "The contactor holds through every surge";
    let contactor = &drive.contactor;
    let (name, voltage) = match contactor.highest_drop_out_voltage {
        Some(highest) => ("contactor.highest_drop_out_voltage", highest.si()),
        None => ("contactor.drop_out_voltage (no highest is given)", contactor.drop_out_voltage.si()),
    };
    let hot = drive.limits.hot_coil_c.unwrap_or(contactor.coil.temperature_c);
    let limit = voltage * contactor.coil.resistance_at(hot.si()) / contactor.coil.resistance.si();
    let basis = format!("{name}, data sheet, with the coil's copper at {hot}");

    let there = runs.direction;
    let mut lowest: Option<(f64, String)> = None;
    let (reversal, back) = (format!("reversal to {}", there.opposite()), there.opposite());
    let (start, stalled) = (format!("start {there}"), format!("stalled start {there}"));
    let watched: [(&str, &Run, Direction); 3] =
        [(&start, &runs.start, there), (&stalled, &runs.stalled, there), (&reversal, &runs.reversal, back)];
    for (what, run, direction) in watched {
        let word = format!("set {} makes", direction.letter().to_uppercase());
        let Some(makes) = event(run, "contactor", &word) else { continue };
        let found = run.extremes_between(&coil_voltage(direction), makes, f64::INFINITY)?;
        if lowest.as_ref().is_none_or(|(known, _)| found.min < *known) {
            lowest = Some((found.min, format!("{what}, {}", at(found.min_at))));
        }
    }
    Ok(match lowest {
        Some((lowest, when)) => Check::against(requirement, lowest, Side::AtLeast, limit, "V", basis, when),
        None => {
            let when = format!("start {there}");
            let check = Check::missing(requirement, None, "V", format!("{basis}; the set does not make at all"), when);
            Check { limit: Some(limit), ..check.judged(Verdict::Fail) }
        }
    })
}

/// A contactor that lets go under load makes the surge again, again and again.
fn stays_in(runs: &DirectionRuns) -> Check {
    let [running, stalled] = [&runs.start, &runs.stalled].map(|start| start.surge.dropouts);
    let dropouts = running + stalled;
    let held = [&runs.start, &runs.stalled].map(|start| quantity(super::end(start), "s"));
    Check {
        requirement: "The contactor does not let go and operate again while it is energised".into(),
        value: Some(dropouts as f64),
        limit: Some(0.0),
        unit: "1",
        margin: None,
        verdict: if dropouts == 0 { Verdict::Pass } else { Verdict::Fail },
        basis: "every drop-out breaks and makes the surge again: none is allowed".into(),
        when: format!(
            "{} {}: {running} in {} of a start, {stalled} in {} stalled",
            "drop-outs", runs.direction, held[0], held[1]
        ),
    }
}

fn coil_voltage(direction: Direction) -> Signal {
    Signal::Between(format!("coil_{}", direction.letter()), "coil_return".into())
}
