//! The stalled drive: how long until something opens, and what burns meanwhile.

use super::SurgeOptions;
use super::protection::{adiabatic_time, winding_time};
use crate::circuit::OperatingPoint;
use crate::drive::{Direction, Drive, Fault};
use crate::error::Error;
use crate::report::{Check, Side, Verdict};

/// The drive stalled with its control held.
#[derive(Debug, Clone, PartialEq)]
pub struct StalledCase {
    /// In which direction.
    pub direction: Direction,
    /// The joint studied.
    pub joint: String,
    /// Its resistance, ohm.
    pub joint_resistance: f64,
    /// What this resistance is: "as described", "at the threshold".
    pub what: &'static str,
    /// Stall current, A.
    pub current: f64,
    /// Power in the joint, W.
    pub joint_power: f64,
    /// Time until the fastest and the slowest device of the band open, s; none where it never does.
    pub trips_after: [Option<f64>; 2],
    /// Time until the winding is at its limit, s; none when a datum is missing.
    pub winding_limit_after: Option<f64>,
    /// Time until the supply cable is at its adiabatic limit, s; none when its insulation has no value.
    pub cable_limit_after: Option<f64>,
}

impl StalledCase {
    /// Time for which a stall may be held, s, by what is known: the earlier of winding and cable limit.
    pub fn hold_limit(&self) -> Option<f64> {
        [self.winding_limit_after, self.cable_limit_after].into_iter().flatten().reduce(f64::min)
    }

    /// Whether even the slowest device opens before the winding and the cable are at their limits; none when neither limit
    /// is known.
    pub fn protected(&self) -> Option<bool> {
        let limit = self.hold_limit()?;
        Some(self.trips_after[1].is_some_and(|trip| trip <= limit))
    }
}

/// A joint a little worse than its threshold, so that the drive does stall.
const BEYOND: f64 = 1.001;

pub(super) fn cases(drive: &Drive, options: &SurgeOptions) -> Result<Vec<StalledCase>, Error> {
    let mut cases = Vec::new();
    for direction in Direction::BOTH {
        let described = drive.joint(&options.joint)?.resistance.si();
        cases.push(case(drive, direction, &options.joint, described, "as described")?);
        let threshold = drive.stall_threshold(&options.joint, direction)?;
        if let Some(resistance) = threshold.stalls_at.filter(|r| *r > described) {
            cases.push(case(drive, direction, &options.joint, BEYOND * resistance, "at the threshold")?);
        }
    }
    Ok(cases)
}

fn case(
    drive: &Drive,
    direction: Direction,
    joint: &str,
    resistance: f64,
    what: &'static str,
) -> Result<StalledCase, Error> {
    let faulty = drive.with_fault(&Fault::joint(joint, resistance)?)?;
    let at: OperatingPoint = faulty.locked_rotor(direction)?;
    let current = at.current("motor")?.abs();
    let joint_current = at.current(joint)?;
    let multiple = at.current("breaker")?.abs() / drive.breaker.rated_current.si();
    Ok(StalledCase {
        direction,
        joint: joint.into(),
        joint_resistance: resistance,
        what,
        current,
        joint_power: joint_current * joint_current * resistance,
        trips_after: [0.0, 1.0].map(|edge| drive.breaker.trip_band.time(edge, multiple)),
        winding_limit_after: winding_time(drive, current),
        cable_limit_after: adiabatic_time(&drive.supply_cable, current),
    })
}

/// Each stalled case as a requirement: the slowest device opens before winding and cable are at their limits.
pub(super) fn checks(cases: &[StalledCase]) -> Vec<Check> {
    cases.iter().map(check).collect()
}

fn check(case: &StalledCase) -> Check {
    let requirement = format!("Stalled {}, {} {}: the breaker opens in time", case.direction, case.joint, case.what);
    let when =
        format!("{:.0} A, {:.0} W in the joint of {:.4} ohm", case.current, case.joint_power, case.joint_resistance);
    let Some(limit) = case.hold_limit() else {
        let missing = "the motor's heat_capacity and max_winding_temperature_c, or the cable's insulation, are missing";
        return Check::missing(requirement, case.trips_after[1], "s", missing, when);
    };
    let by = if case.winding_limit_after == Some(limit) { "winding" } else { "supply cable" };
    let basis = format!("time for the {by} to reach its limit from the start temperature, slow edge of the trip band");
    let [fastest, slowest] = case.trips_after;
    let verdict = match slowest {
        Some(slow) => {
            let check = Check::against(&requirement, slow, Side::AtMost, limit, "s", &basis, &when);
            if check.verdict != Verdict::Fail {
                return check;
            }
            if fastest.is_some_and(|fast| fast <= limit) { Verdict::May } else { Verdict::Fail }
        }
        None if fastest.is_some_and(|fast| fast <= limit) => Verdict::May,
        None => Verdict::Fail,
    };
    let not_protected = format!("{basis}; not protected by the breaker: limit the hold to {limit:.1} s");
    Check {
        requirement,
        value: slowest,
        limit: Some(limit),
        unit: "s",
        margin: slowest.map(|slow| (limit - slow) / limit),
        verdict,
        basis: not_protected,
        when,
    }
}
