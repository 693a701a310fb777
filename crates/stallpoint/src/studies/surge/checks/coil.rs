//! The contactor pulls in, holds, and does not let go and operate again.

use super::super::facts::{DirectionFacts, PullIn};
use crate::drive::Drive;
use crate::report::{Check, Side, Verdict, quantity};

pub(super) fn checks(drive: &Drive, facts: &DirectionFacts) -> Vec<Check> {
    let [start, reversal] = &facts.pull_ins;
    let mut checks = vec![pulls_in(drive, start), holds(drive, facts), stays_in(facts)];
    // A reversal is judged where there was something to reverse.
    if start.makes.is_some() {
        checks.push(pulls_in(drive, reversal));
    }
    checks
}

/// From energising until the set makes, the coil's voltage against the hot coil's pull-in.
fn pulls_in(drive: &Drive, pull: &PullIn) -> Check {
    let requirement = "The contactor pulls in with a hot coil";
    let when = format!("{}, until the set makes", pull.what);
    let value = Some(pull.lowest).filter(|volts| volts.is_finite());
    let check = match (drive.limits.hot_coil_c, value) {
        (Some(hot), Some(lowest)) => {
            let limit = drive.contactor.pull_in_voltage_at(hot.si());
            let basis = format!("contactor.pull_in_voltage, data sheet, with the coil's copper at {hot}");
            Check::against(requirement, lowest, Side::AtLeast, limit, "V", basis, when)
        }
        (None, value) => Check::missing(requirement, value, "V", "limits.hot_coil_c is missing", when),
        (Some(_), None) => Check::missing(requirement, None, "V", "the coil is never energised", when),
    };
    let check = match pull.makes {
        Some(time) => check.at_time(time),
        None => {
            Check { basis: format!("{}; the set does not make at all", check.basis), ..check }.judged(Verdict::Fail)
        }
    };
    check.keyed("pull_in")
}

/// After the set has made, the coil's lowest voltage in any run against the highest drop-out of a hot coil.
fn holds(drive: &Drive, facts: &DirectionFacts) -> Check {
    let requirement = "The contactor holds through every surge";
    let contactor = &drive.contactor;
    let (name, voltage) = match contactor.highest_drop_out_voltage {
        Some(highest) => ("contactor.highest_drop_out_voltage", highest.si()),
        None => ("contactor.drop_out_voltage (no highest is given)", contactor.drop_out_voltage.si()),
    };
    let hot = drive.limits.hot_coil_c.unwrap_or(contactor.coil.temperature_c);
    let limit = voltage * contactor.coil.resistance_at(hot.si()) / contactor.coil.resistance.si();
    let basis = format!("{name}, data sheet, with the coil's copper at {hot}");
    let check = match &facts.holding {
        Some(lowest) => {
            let check =
                Check::against(requirement, lowest.value, Side::AtLeast, limit, "V", basis, lowest.when.clone());
            check.at_time(lowest.time)
        }
        None => {
            let when = format!("start {}", facts.direction);
            let check = Check::missing(requirement, None, "V", format!("{basis}; the set does not make at all"), when);
            Check { limit: Some(limit), ..check.judged(Verdict::Fail) }
        }
    };
    check.keyed("hold")
}

/// A contactor that lets go under load makes the surge again, again and again.
fn stays_in(facts: &DirectionFacts) -> Check {
    let [running, stalled, reversed] = facts.drop_outs;
    let dropouts = running + stalled + reversed;
    let held = [facts.hold, facts.stalled_hold].map(|time| quantity(time, "s"));
    let when = format!(
        "drop-outs {}: {running} in {} of a start, {stalled} in {} stalled, {reversed} after a reversal",
        facts.direction, held[0], held[1]
    );
    let requirement = "The contactor does not let go and operate again while it is energised";
    let basis = "every drop-out breaks and makes the surge again: none is allowed";
    let check = Check::whether(requirement, dropouts == 0, basis, when);
    Check { value: Some(dropouts as f64), ..check }.keyed("chatter")
}
