//! Requirements as data: each takes what was found out of a drive and returns checks.

mod battery;
mod contactor;
mod list;
mod motor;
mod runs;
mod trips;

pub use list::Requirements;

use super::evidence::{Evidence, Statics};
use super::trips::Reached;
use crate::drive::Drive;
use crate::report::Check;
use crate::studies::surge::{DirectionTrips, JointState, StalledCase, checks, protection, stalled};

/// What a requirement looks at: the drive with its ratings, what its circuit did, how far its breaker's integrals got.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// The drive of this candidate in this corner.
    pub drive: &'a Drive,
    /// What its circuit did.
    pub evidence: &'a Evidence,
    /// How far the integrals of its breaker got, forward and reverse.
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

/// What needs no transient.
pub(super) fn static_checks(drive: &Drive, statics: &Statics) -> Vec<Check> {
    let mut all = protection::checks(drive, statics.fault_current);
    let stalled_cases =
        statics.locked.each_ref().map(|locked| StalledCase::judge(drive, locked, JointState::AsDescribed));
    all.extend(stalled::checks(drive, &stalled_cases));
    all.push(battery::interrupting_by_table(drive));
    all.extend(motor::breakaway(drive, statics));
    all.push(contactor::duty(drive));
    all
}

/// What needs the runs.
pub(super) fn run_checks(case: &Case) -> Vec<Check> {
    let Case { drive, evidence, trips } = *case;
    let facts = &evidence.facts;
    let cold: [DirectionTrips; 2] = trips.each_ref().map(|reached| reached.cold);
    let mut all = checks::checks(drive, facts, &cold);
    all.extend(trips::checks(facts, trips));
    all.extend(runs::checks(drive, facts));
    all.extend(contactor::isolator(drive, facts));
    all.extend(battery::checks(drive, facts));
    all.extend(motor::demagnetisation(drive, facts));
    all
}
