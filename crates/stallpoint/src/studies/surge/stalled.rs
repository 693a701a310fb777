//! The stalled drive: how long until something opens, and what burns meanwhile.

use super::SurgeOptions;
use super::protection::cables_behind;
use super::volts::{VoltsLost, in_row};
use super::warming::{FallingCurrent, Warming, warming};
use super::withstand::cable_limit_time;
use crate::circuit::OperatingPoint;
use crate::drive::{Direction, Drive, Fault, First, StallThreshold};
use crate::error::Error;
use crate::parts::Joint;
use crate::report::{Check, Side, Verdict, quantity};

/// How good the joint of a stalled case is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JointState {
    /// As new.
    AsNew,
    /// As the drive's description has it, when that is far from new.
    AsDescribed,
    /// In between, where a jammed shaft may be held for the shortest time that no breaker ends.
    AtItsWorst,
    /// Just beyond the resistance at which the motor does not break away.
    AtThreshold,
}

impl std::fmt::Display for JointState {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::AsNew => "as new",
            Self::AsDescribed => "as described",
            Self::AtItsWorst => "at its worst for a jammed shaft",
            Self::AtThreshold => "at the stall threshold",
        })
    }
}

/// The drive stalled with its control held.
#[derive(Debug, Clone, PartialEq)]
pub struct StalledCase {
    /// In which direction.
    pub direction: Direction,
    /// The joint studied.
    pub joint: String,
    /// How good it is.
    pub joint_state: JointState,
    /// Its resistance, ohm.
    pub joint_resistance: f64,
    /// Stall current with the winding at its start temperature, A; it falls as the winding warms.
    pub current: f64,
    /// Power in the joint, W.
    pub joint_power: f64,
    /// Whether the contactor lets go at this current, so that it chatters and nothing here lasts.
    pub drops_out: bool,
    /// Time until the fastest and the slowest device of the band open, s; none where it never does.
    pub trips_after: [Option<f64>; 2],
    /// Time until the winding is at its limit, s, infinite when it never is; none when a datum is missing.
    pub winding_limit_after: Option<f64>,
    /// Time until the first of the cables behind the breaker is at its limit, s, infinite when none ever is; none when the
    /// insulation of one has no value.
    pub cable_limit_after: Option<f64>,
    /// Where the volts go.
    pub volts: VoltsLost,
}

impl StalledCase {
    /// Time for which a stall may be held, s, by what is known: the earlier of winding and cable limit.
    pub fn hold_limit(&self) -> Option<f64> {
        [self.winding_limit_after, self.cable_limit_after].into_iter().flatten().reduce(f64::min)
    }

    /// Whether even the slowest device opens before winding and cable are at their limits, or nothing gets there; none when
    /// neither limit is known.
    pub fn protected(&self) -> Option<bool> {
        let limit = self.hold_limit()?;
        Some(limit.is_infinite() || self.trips_after[1].is_some_and(|trip| trip <= limit))
    }

    /// The longest hold, s, where a slow breaker does not end it in time; none where it does, or where no limit is known.
    fn unprotected_for(&self) -> Option<f64> {
        self.hold_limit().filter(|_| self.protected() == Some(false))
    }

    /// What must be told whoever holds the control.
    pub fn advice(&self) -> Option<String> {
        let limit = self.unprotected_for()?;
        let fast = self.trips_after[0].is_some_and(|trip| trip <= limit);
        let whom = if fast { "not protected by a slow breaker" } else { "not protected by the breaker" };
        Some(format!("{whom}: limit the hold to {}", quantity(round_down(limit), "s")))
    }
}

/// A time to hold, rounded down: whole seconds from ten on, tenths below.
pub(super) fn round_down(seconds: f64) -> f64 {
    if seconds >= 10.0 { seconds.floor() } else { (10.0 * seconds).floor() / 10.0 }
}

/// A joint a little worse than its threshold, so that the drive does stall; so little that it reads the same.
const BEYOND: f64 = 1.000_01;
/// A joint this many times worse than new is looked at as described, too.
const FAR_FROM_NEW: f64 = 10.0;
/// Joints looked at between new and threshold, and the share of the other cases' shortest hold below which one is told.
const IN_BETWEEN: u32 = 40;
const WORTH_TELLING: f64 = 0.98;

/// The stall thresholds of the joint studied, forward and reverse.
pub(super) fn thresholds(drive: &Drive, joint: &str) -> Result<[StallThreshold; 2], Error> {
    let [forward, reverse] = Direction::BOTH;
    Ok([drive.stall_threshold(joint, forward)?, drive.stall_threshold(joint, reverse)?])
}

pub(super) fn cases(
    drive: &Drive,
    options: &SurgeOptions,
    thresholds: &[StallThreshold; 2],
) -> Result<Vec<StalledCase>, Error> {
    let mut cases = Vec::new();
    let new = Joint::default().resistance.si();
    let described = drive.joint(&options.joint)?.resistance.si();
    for (direction, threshold) in Direction::BOTH.into_iter().zip(thresholds) {
        cases.push(case(drive, direction, options, new, JointState::AsNew)?);
        if described > FAR_FROM_NEW * new {
            cases.push(case(drive, direction, options, described, JointState::AsDescribed)?);
        }
        // Without a threshold it never stalls; with one below a new joint's resistance it stalls anyway.
        if let Some(resistance) = threshold.stalls_at.filter(|r| *r > new) {
            let mut case = case(drive, direction, options, BEYOND * resistance, JointState::AtThreshold)?;
            case.drops_out = threshold.which_first == First::DropsOut;
            let threshold = case.joint_resistance;
            cases.push(case);
            let others = cases.iter().filter(|case| case.direction == direction);
            let shortest = others.filter_map(StalledCase::unprotected_for).fold(f64::INFINITY, f64::min);
            let between = in_between(drive, direction, options, new, threshold)?;
            cases.extend(
                between.filter(|case| case.unprotected_for().is_some_and(|hold| hold < WORTH_TELLING * shortest)),
            );
        }
    }
    Ok(cases)
}

/// Of the joint's resistances between new and threshold the one with the shortest hold that the breaker does not end.
fn in_between(
    drive: &Drive,
    direction: Direction,
    options: &SurgeOptions,
    new: f64,
    threshold: f64,
) -> Result<Option<StalledCase>, Error> {
    let mut worst: Option<StalledCase> = None;
    for step in 1..IN_BETWEEN {
        let resistance = new * (threshold / new).powf(f64::from(step) / f64::from(IN_BETWEEN));
        let case = case(drive, direction, options, resistance, JointState::AtItsWorst)?;
        let known = worst.as_ref().and_then(StalledCase::unprotected_for).unwrap_or(f64::INFINITY);
        if case.unprotected_for().is_some_and(|hold| hold < known) {
            worst = Some(case);
        }
    }
    Ok(worst)
}

fn case(
    drive: &Drive,
    direction: Direction,
    options: &SurgeOptions,
    resistance: f64,
    joint_state: JointState,
) -> Result<StalledCase, Error> {
    let faulty = drive.with_fault(&Fault::joint(&options.joint, resistance)?)?;
    let at = faulty.locked_rotor(direction)?;
    let joint_current = at.current(&options.joint)?;
    let current = at.current("motor")?.abs();
    let coil = at.state("contactor", &format!("coil_{}_current", direction.letter()))?.abs();
    let warming = follow(&faulty, direction, &at)?;
    let through = at.current("breaker")?;
    let steady = [0.0, 1.0].map(|edge| drive.breaker.trip_time(edge, through));
    let mut cable_limit_after = Some(f64::INFINITY);
    for (part, _, cable) in cables_behind(drive) {
        let limit = cable_limit_time(cable, at.current(part)?.abs());
        cable_limit_after = cable_limit_after.zip(limit).map(|(a, b)| a.min(b));
    }
    Ok(StalledCase {
        direction,
        joint: options.joint.clone(),
        joint_state,
        joint_resistance: resistance,
        current,
        joint_power: joint_current * joint_current * resistance,
        drops_out: coil < drive.contactor.drop_out_current(),
        trips_after: warming.as_ref().map_or(steady, |warming| warming.trips_after),
        winding_limit_after: warming.map(|warming| warming.winding_limit_after),
        cable_limit_after,
        volts: in_row(&at, direction, format!("stalled {direction}, {} {joint_state}", options.joint))?,
    })
}

/// The stall as its winding warms; none when the motor's thermal data are missing.
fn follow(faulty: &Drive, direction: Direction, cold: &OperatingPoint) -> Result<Option<Warming>, Error> {
    let motor = faulty.motor.armature();
    let Some(limit) = motor.max_winding_temperature_c else { return Ok(None) };
    let start = motor.winding_temperature_c.si();
    // Any second temperature serves; the limit need not be above the start.
    let second = limit.si().max(start + 1.0);
    let mut warm = faulty.clone();
    warm.motor = warm.motor.with_winding_temperature(second);
    let warm = warm.locked_rotor(direction)?;
    let falling = |part: &str| -> Result<FallingCurrent, Error> {
        Ok(FallingCurrent { cold: (start, cold.current(part)?.abs()), warm: (second, warm.current(part)?.abs()) })
    };
    Ok(warming(faulty, &falling("motor")?, &falling("breaker")?))
}

/// Each stalled case as a requirement: the slowest device opens before winding and cable are at their limits.
pub(super) fn checks(cases: &[StalledCase]) -> Vec<Check> {
    cases.iter().map(check).collect()
}

fn check(case: &StalledCase) -> Check {
    let requirement = format!("Stalled {}: the breaker opens in time", case.direction);
    let when = format!(
        "{} {} ({}): {:.0} A, {:.0} W in the joint",
        case.joint,
        case.joint_state,
        quantity(case.joint_resistance, "ohm"),
        case.current,
        case.joint_power
    );
    let [fastest, slowest] = case.trips_after;
    if case.drops_out {
        let chatters = "the contactor lets go at this current, makes again and chatters: no time applies";
        return Check::missing(requirement, None, "1", chatters, when).judged(Verdict::Fail);
    }
    let Some(limit) = case.hold_limit() else {
        let missing = "motor.heat_capacity or motor.max_winding_temperature_c, and the cable's k value, are missing";
        return Check::missing(requirement, slowest, "s", missing, when);
    };
    let by = match () {
        () if limit.is_infinite() => "neither winding nor cables get to their limits",
        () if case.winding_limit_after == Some(limit) => "time for the winding to get to its limit from its start",
        () => "time for the first cable to get to its limit",
    };
    let basis = format!("slow edge of the trip band; {by}");
    let check = Check::against(requirement, slowest.unwrap_or(f64::INFINITY), Side::AtMost, limit, "s", basis, when);
    let verdict = match case.protected() {
        Some(true) if limit.is_infinite() => Verdict::Pass,
        Some(true) => return half_known(case, check),
        _ if fastest.is_some_and(|fast| fast <= limit) => Verdict::May,
        _ => Verdict::Fail,
    };
    let advice = case.advice().map_or_else(String::new, |advice| format!(" ({advice})"));
    let check = Check {
        requirement: format!("{}{advice}", check.requirement),
        value: slowest,
        margin: check.margin.filter(|margin| margin.is_finite()),
        ..check.judged(verdict)
    };
    if verdict == Verdict::Pass { half_known(case, check) } else { check }
}

/// A pass by the winding or by the cables alone, when nothing is known of the other, is none.
fn half_known(case: &StalledCase, check: Check) -> Check {
    let missing = match (case.winding_limit_after, case.cable_limit_after) {
        (None, _) => "motor.heat_capacity or motor.max_winding_temperature_c is missing; the cables are protected",
        (_, None) => "the k value of a cable's insulation is missing; the winding is protected",
        _ => return check,
    };
    Check { basis: missing.into(), ..check.judged(Verdict::NotChecked) }
}
