//! One drive against every requirement, in every corner.

use super::corners::Corner;
use super::evidence::Evidence;
use super::options::SizingOptions;
use super::requirements::{Case, Protection};
use super::trips::reached;
use crate::drive::Drive;
use crate::error::Error;
use crate::report::{Check, Verdict};

/// The checks of a drive.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// Every check of every corner.
    pub checks: Vec<Check>,
}

impl Assessment {
    /// Judges a drive by evidence that was gathered of it, or of one that differs in its ratings alone.
    pub fn by(drive: &Drive, evidence: &Evidence, options: &SizingOptions) -> Self {
        Self { checks: judge(drive, evidence, options) }
    }

    /// The worst check of each key, in the order of the keys' first appearance.
    pub fn worst(&self) -> Vec<Check> {
        worst_by_key(&self.checks)
    }

    /// The worst check of a key.
    pub fn of(&self, key: &str) -> Option<&Check> {
        self.checks.iter().filter(|check| check.key == key).min_by(|a, b| a.worse_first(b))
    }

    /// Keys of the requirements that are broken.
    pub fn broken(&self) -> Vec<String> {
        self.worst().iter().filter(|check| check.broken()).map(|check| check.key.to_string()).collect()
    }

    /// Whether nothing is broken and everything is checked.
    pub fn holds(&self) -> bool {
        self.checks.iter().all(|check| check.met())
    }

    /// How many checks have a verdict.
    pub fn count(&self, verdict: Verdict) -> usize {
        self.checks.iter().filter(|check| check.verdict == verdict).count()
    }
}

/// The worst of each key.
pub(super) fn worst_by_key(checks: &[Check]) -> Vec<Check> {
    let mut worst: Vec<&Check> = Vec::new();
    for check in checks {
        match worst.iter_mut().find(|known| known.key == check.key) {
            Some(known) if check.worse_first(known).is_lt() => *known = check,
            Some(_) => {}
            None => worst.push(check),
        }
    }
    worst.into_iter().cloned().collect()
}

/// Judges a drive in every corner of the options (as described when there is none), its breaker held closed in the runs.
///
/// # Errors
/// A description that cannot be a drive, also in a corner; a run whose equations cannot be solved on.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sizing::{SizingOptions, assess};
///
/// let found = assess(&Drive::from_toml_str(BOAT_LIFT)?, &SizingOptions::default())?;
/// let stall = found.of("stall_protection").unwrap();
/// assert!(stall.broken()); // the slowest breaker of that band is too late for the winding
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn assess(drive: &Drive, options: &SizingOptions) -> Result<Assessment, Error> {
    options.requirements.check()?;
    let nominal = [Corner::as_described()];
    let corners = if options.corners.is_empty() { &nominal[..] } else { &options.corners };
    let mut checks = Vec::new();
    for corner in corners {
        let drive = corner.apply(drive)?;
        let evidence = Evidence::gather(&drive, options)?;
        checks.extend(judge(&drive, &evidence, options).into_iter().map(|check| corner.mark(check)));
    }
    Ok(Assessment { checks })
}

/// Every check of a drive whose evidence is there.
pub(super) fn judge(drive: &Drive, evidence: &Evidence, options: &SizingOptions) -> Vec<Check> {
    let trips = reached(&drive.protection(), &evidence.facts, options);
    let case = Case { drive, evidence, trips: &trips };
    let protection = Protection::of(drive, &evidence.statics);
    let mut checks = options.requirements.statics(drive, &evidence.statics, &protection);
    checks.extend(options.requirements.runs(&case));
    checks
}
