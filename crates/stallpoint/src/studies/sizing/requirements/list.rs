//! Which requirements count.

use std::sync::Arc;

use super::{Case, Protection, Requirement, run_checks, static_checks};
use crate::drive::Drive;
use crate::error::Error;
use crate::report::Check;
use crate::studies::sizing::evidence::Statics;

/// Keys of the built-in requirements.
pub const KEYS: [&str; 39] = [
    "ampacity",
    "arcs",
    "battery_over_current",
    "battery_sag",
    "battery_under_voltage",
    "breakaway",
    "breaking",
    "carrying",
    "chatter",
    "contactor_drop",
    "contactor_duty",
    "contactor_withstand",
    "demagnetisation",
    "ground_drop",
    "hold",
    "interrupting",
    "interrupting_by_battery",
    "isolator_breaking",
    "isolator_carrying",
    "isolator_making",
    "joints_drop",
    "making",
    "nuisance_trip",
    "nuisance_trip_jogs",
    "nuisance_trip_warm",
    "pull_in",
    "regeneration",
    "rest_making",
    "run_drop",
    "running_trip",
    "small_overload",
    "stall_protection",
    "supply_drop",
    "surge_i2t",
    "time_to_speed",
    "weld_arc_energy",
    "weld_i2t",
    "weld_voltage",
    "withstand",
];

/// The built-in requirements ([`KEYS`]), those of the user's own, and the keys that are left out.
///
/// # Example
/// ```
/// use stallpoint::report::{Check, Side};
/// use stallpoint::studies::sizing::{Case, Requirements};
///
/// let requirements = Requirements::default().without("rest_making").with(|case: &Case| {
///     let peak = case.evidence.facts.largest(|direction| &direction.breaker_peak);
///     let check = Check::against("The surge is gentle", peak.value, Side::AtMost, 200.0, "A", "by the user", &peak.when);
///     vec![check.keyed("gentle_surge")]
/// });
/// assert!(!requirements.counts("rest_making"));
/// ```
#[derive(Clone, Default)]
pub struct Requirements {
    own: Vec<Arc<dyn Requirement>>,
    left_out: Vec<String>,
}

impl Requirements {
    /// One more, of the user's own. It is called from several threads at once.
    #[must_use]
    pub fn with(mut self, requirement: impl Requirement + 'static) -> Self {
        self.own.push(Arc::new(requirement));
        self
    }

    /// Leaves out every check of a key: one of [`KEYS`], or of the user's own.
    #[must_use]
    pub fn without(mut self, key: impl Into<String>) -> Self {
        self.left_out.push(key.into());
        self
    }

    /// Whether checks of this key count.
    pub fn counts(&self, key: &str) -> bool {
        !self.left_out.iter().any(|left_out| left_out == key)
    }

    /// Refuses to leave out what no requirement is called. With requirements of the user's own any key may be theirs.
    ///
    /// # Errors
    /// [`Error::Argument`] with the keys that there are.
    pub(in crate::studies::sizing) fn check(&self) -> Result<(), Error> {
        match self.left_out.iter().find(|key| self.own.is_empty() && !KEYS.contains(&key.as_str())) {
            Some(key) => Err(Error::option("without", &format!("\"{key}\""), &format!("one of {}", KEYS.join(", ")))),
            None => Ok(()),
        }
    }

    /// Keys that are left out.
    pub fn left_out(&self) -> &[String] {
        &self.left_out
    }

    /// Every check that needs no transient.
    pub(in crate::studies::sizing) fn statics(
        &self,
        drive: &Drive,
        statics: &Statics,
        protection: &Protection,
    ) -> Vec<Check> {
        self.kept(static_checks(drive, statics, protection))
    }

    /// Every check that needs the runs, the user's own last.
    pub(in crate::studies::sizing) fn runs(&self, case: &Case) -> Vec<Check> {
        let mut all = run_checks(case);
        all.extend(self.own.iter().flat_map(|own| own.check(case)));
        self.kept(all)
    }

    fn kept(&self, mut checks: Vec<Check>) -> Vec<Check> {
        checks.retain(|check| self.counts(&check.key));
        checks
    }
}

impl std::fmt::Debug for Requirements {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Requirements").field("own", &self.own.len()).field("left_out", &self.left_out).finish()
    }
}
