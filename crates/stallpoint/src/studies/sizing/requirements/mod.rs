//! Requirements as data: each takes what was found out of a drive and returns checks.

mod battery;
mod contactor;
mod list;
mod motor;
mod runs;
mod trips;

pub use list::{KEYS, Requirements};

use super::evidence::{Evidence, Statics};
use super::trips::Reached;
use crate::drive::Drive;
use crate::report::Check;
use crate::studies::surge::{DirectionTrips, JointState, StalledCase, checks, protection, stalled};

/// What a requirement looks at: the drive with its ratings, what its circuit did, how far its breaker's or fuse's integrals got.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// The drive of this candidate in this corner.
    pub drive: &'a Drive,
    /// What its circuit did.
    pub evidence: &'a Evidence,
    /// How far the integrals of its breaker or fuse got, forward and reverse.
    pub trips: &'a [Reached; 2],
}

/// A requirement of the user's own: a closure does.
pub trait Requirement: Send + Sync {
    /// Holds a case against its limits. Every check needs a key of its own ([`Check::keyed`]).
    fn check(&self, case: &Case) -> Vec<Check>;
}

impl<F: Fn(&Case) -> Vec<Check> + Send + Sync> Requirement for F {
    fn check(&self, case: &Case) -> Vec<Check> {
        self(case)
    }
}

/// What the breaker does for cables and winding: the same for all who share it, the cables and the circuit.
#[derive(Debug, Clone)]
pub(super) struct Protection {
    checks: Vec<Check>,
    stalled: [StalledCase; 2],
}

impl Protection {
    pub(super) fn of(drive: &Drive, statics: &Statics) -> Self {
        let judge = |locked| StalledCase::judge(drive, locked, JointState::AsDescribed);
        Self { checks: protection::checks(drive, statics.fault_current), stalled: statics.locked.each_ref().map(judge) }
    }

    /// Whether two drives of one circuit have the same.
    pub(super) fn shared(a: &Drive, b: &Drive) -> bool {
        let limit = |drive: &Drive| drive.motor.armature().max_winding_temperature_c;
        (&a.breaker, &a.fuse) == (&b.breaker, &b.fuse)
            && (&a.supply_cable, &a.ground_cable, &a.motor_lead) == (&b.supply_cable, &b.ground_cable, &b.motor_lead)
            && limit(a) == limit(b)
    }
}

/// What needs no transient.
pub(super) fn static_checks(drive: &Drive, statics: &Statics, protection: &Protection) -> Vec<Check> {
    let mut all = protection.checks.clone();
    all.extend(stalled::checks(drive, &protection.stalled));
    all.push(battery::interrupting_by_table(drive));
    all.extend(motor::breakaway(drive, statics));
    all.push(contactor::duty(drive));
    all.extend(contactor::withstand(drive, statics));
    all
}

/// What needs the runs.
pub(super) fn run_checks(case: &Case) -> Vec<Check> {
    let Case { drive, evidence, trips } = *case;
    let facts = &evidence.facts;
    let cold: [DirectionTrips; 2] = trips.each_ref().map(|reached| reached.cold);
    let mut all = checks::checks(drive, facts, &cold);
    // The battery's management is out of these runs: its levels and delays are held against them below.
    all.retain(|check| check.key != "battery_cut_off");
    all.extend(trips::checks(drive, facts, trips));
    all.extend(runs::checks(drive, facts));
    all.extend(contactor::isolator(drive, facts));
    all.extend(battery::checks(drive, facts));
    all.extend(motor::demagnetisation(drive, facts));
    all
}
