//! Work counters: what a run cost, independent of the machine.

/// Work done by a solve. Counters are asserted in tests; time is not.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counters {
    /// Accepted steps.
    pub steps: u64,
    /// Attempts rejected by the error estimate.
    pub rejected_by_error: u64,
    /// Attempts rejected because Newton's method did not converge.
    pub rejected_by_newton: u64,
    /// Attempts done again to land on an event.
    pub redone_for_events: u64,
    /// Mode changes.
    pub events: u64,
    /// Consistent re-initialisations.
    pub restarts: u64,
    /// Newton iterations.
    pub newton_iterations: u64,
    /// Evaluations of the system, with or without Jacobian.
    pub evaluations: u64,
    /// Evaluations with Jacobian.
    pub jacobians: u64,
    /// Numeric factorisations.
    pub factorisations: u64,
    /// Changes of the pivot order.
    pub repivots: u64,
    /// Triangular solves.
    pub solves: u64,
}
