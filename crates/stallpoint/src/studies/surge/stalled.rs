//! The stalled drive: how long until something opens, and what burns meanwhile.

use super::SurgeOptions;
use super::protection::cables_behind;
use super::volts::{VoltsLost, in_row};
use super::warming::{FallingCurrent, warming};
use super::withstand::cable_limit_time;
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
    /// "breaker" or "fuse".
    pub device: &'static str,
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
        let whom = if fast {
            format!("not protected by a slow {}", self.device)
        } else {
            format!("not protected by the {}", self.device)
        };
        let unknown = self
            .unknown()
            .map_or(String::new(), |what| format!("; what the {what} withstands is not known and may be less"));
        Some(format!("{whom}: limit the hold to {}{unknown}", quantity(round_down(limit), "s")))
    }

    /// Which of winding and cable has no known limit, where the other has one.
    pub(crate) fn unknown(&self) -> Option<&'static str> {
        match (self.winding_limit_after, self.cable_limit_after) {
            (None, Some(_)) => Some("winding"),
            (Some(_), None) => Some("cable"),
            _ => None,
        }
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
    // Any second temperature serves; the limit need not be above the start.
    let armature = faulty.motor.armature();
    let start = armature.winding_temperature_c.si();
    let second = armature.max_winding_temperature_c.map_or(start + 1.0, |limit| limit.si().max(start + 1.0));
    let locked = LockedRotor::of(&faulty, direction, &options.joint, second)?;
    Ok(StalledCase::judge(drive, &locked, joint_state))
}

/// The drive with its shaft blocked: what does not depend on any rating.
#[derive(Debug, Clone, PartialEq)]
pub struct LockedRotor {
    /// In which direction.
    pub direction: Direction,
    /// The joint studied.
    pub joint: String,
    /// Its resistance, ohm.
    pub joint_resistance: f64,
    /// Current through that joint, A.
    pub joint_current: f64,
    /// Current through the coil, A.
    pub coil_current: f64,
    /// Torque that the held shaft takes in the drive's direction, N·m: motor and loads together.
    pub torque: f64,
    /// Currents through motor and breaker at two winding temperatures, °C and A.
    pub motor: [(f64, f64); 2],
    /// The same of the breaker.
    pub breaker: [(f64, f64); 2],
    /// Currents through the cables behind the breaker, A.
    pub cables: Vec<f64>,
    /// Where the volts go.
    pub volts: VoltsLost,
}

impl LockedRotor {
    /// At the winding's start temperature, and with the winding at `second` °C.
    pub(crate) fn of(drive: &Drive, direction: Direction, joint: &str, second: f64) -> Result<Self, Error> {
        let at = drive.locked_rotor(direction)?;
        let start = drive.motor.armature().winding_temperature_c.si();
        let mut warm = drive.clone();
        warm.motor = warm.motor.with_winding_temperature(second);
        let warm = warm.locked_rotor(direction)?;
        let both = |part: &str| -> Result<[(f64, f64); 2], Error> {
            Ok([(start, at.current(part)?.abs()), (second, warm.current(part)?.abs())])
        };
        let cables = cables_behind(drive).into_iter().map(|(part, ..)| Ok(at.current(part)?.abs()));
        Ok(Self {
            direction,
            joint: joint.into(),
            joint_resistance: drive.joint(joint)?.resistance.si(),
            joint_current: at.current(joint)?,
            coil_current: at.state("contactor", &format!("coil_{}_current", direction.letter()))?.abs(),
            torque: direction.sign() * at.state("motor.shaft", "friction_torque")?,
            motor: both("motor")?,
            breaker: both(drive.protection().name())?,
            cables: cables.collect::<Result<_, Error>>()?,
            volts: in_row(&at, direction, String::new())?,
        })
    }
}

impl StalledCase {
    /// Holds a locked rotor against the ratings of a drive.
    pub(crate) fn judge(drive: &Drive, locked: &LockedRotor, joint_state: JointState) -> Self {
        let falling = |of: [(f64, f64); 2]| FallingCurrent { cold: of[0], warm: of[1] };
        let warming = warming(drive, &falling(locked.motor), &falling(locked.breaker));
        let steady = [0.0, 1.0].map(|edge| drive.protection().trip_time(edge, locked.breaker[0].1));
        let mut cable_limit_after = Some(f64::INFINITY);
        for ((.., cable), current) in cables_behind(drive).into_iter().zip(&locked.cables) {
            let limit = cable_limit_time(cable, *current);
            cable_limit_after = cable_limit_after.zip(limit).map(|(a, b)| a.min(b));
        }
        let (direction, joint) = (locked.direction, &locked.joint);
        Self {
            direction,
            device: drive.protection().name(),
            joint: joint.clone(),
            joint_state,
            joint_resistance: locked.joint_resistance,
            current: locked.motor[0].1,
            joint_power: locked.joint_current * locked.joint_current * locked.joint_resistance,
            drops_out: locked.coil_current
                < drive.contactor.faulty_drop_out_current(locked.direction == Direction::Forward),
            trips_after: warming.as_ref().map_or(steady, |warming| warming.trips_after),
            winding_limit_after: warming.map(|warming| warming.winding_limit_after),
            cable_limit_after,
            volts: VoltsLost { when: format!("stalled {direction}, {joint} {joint_state}"), ..locked.volts.clone() },
        }
    }
}

/// Each stalled case as a requirement: the slowest device opens before winding and cable are at their limits.
pub(crate) fn checks(drive: &Drive, cases: &[StalledCase]) -> Vec<Check> {
    let hold = drive.limits.longest_hold.map(|hold| hold.si());
    cases.iter().map(|case| ended(case, hold, check(case)).keyed(key(case.joint_state))).collect()
}

/// A stall that the breaker does not end in time may be ended by the longest hold.
fn ended(case: &StalledCase, hold: Option<f64>, check: Check) -> Check {
    let (Some(hold), Some(limit)) = (hold, case.hold_limit()) else { return check };
    let known = case.winding_limit_after.is_some() && case.cable_limit_after.is_some();
    if case.drops_out || !known || case.protected() == Some(true) {
        return check;
    }
    let requirement = format!("Stalled {}: the longest hold ends it in time", case.direction);
    let basis = format!(
        "limits.longest_hold, by the user, where the slowest {} is too late; time for winding or cable to get to its limit",
        case.device
    );
    Check::against(requirement, hold, Side::AtMost, limit, "s", basis, check.when)
}

/// A shaft that jams is one thing, a joint that corrodes until it stalls the drive another.
fn key(joint: JointState) -> &'static str {
    match joint {
        JointState::AsNew | JointState::AsDescribed => "stall_protection",
        JointState::AtItsWorst | JointState::AtThreshold => "bad_joint_protection",
    }
}

fn check(case: &StalledCase) -> Check {
    let requirement = format!("Stalled {}: the {} opens in time", case.direction, case.device);
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
