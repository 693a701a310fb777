//! The surge study: start, release, stalled release and reversal in both directions, held against every rating.

pub(crate) mod checks;
mod curves;
mod facts;
mod peaks;
pub(crate) mod protection;
mod report;
mod runs;
pub(crate) mod stalled;
mod trips;
mod volts;
mod warming;
mod withstand;

pub use curves::{Curve, TripPicture};
pub use facts::{DirectionFacts, Facts, Found, PullIn, SupplyFacts, Waveform, WeldFacts};
pub use peaks::PartPeaks;
pub use runs::{DirectionRuns, Held};
pub use stalled::{JointState, LockedRotor, StalledCase};
pub use trips::{DirectionTrips, Fractions};
pub use volts::{Drop, Group, Loss, Moment, VoltsLost, volts_lost};
pub use withstand::{adiabatic_time, cable_limit_time};

use crate::circuit::{Flow, Progress, TransientOptions, Watcher};
use crate::drive::{Direction, Drive, StallThreshold};
use crate::error::Error;
use crate::report::Check;

/// Settings of a surge study.
#[derive(Debug, Clone)]
pub struct SurgeOptions {
    /// How long the control is held, s.
    pub hold: f64,
    /// How long a stalled start is held before it is released, s.
    pub stalled_hold: f64,
    /// How long each run goes on after the release, s.
    pub tail: f64,
    /// Pause between the two directions in the reversal, s.
    pub pause: f64,
    /// The joint whose corrosion is studied.
    pub joint: String,
    /// Settings of the transients.
    pub transient: TransientOptions,
}

impl Default for SurgeOptions {
    fn default() -> Self {
        Self {
            hold: 3.0,
            stalled_hold: 0.5,
            tail: 0.5,
            pause: 0.05,
            joint: "ground_stud_joint".into(),
            transient: TransientOptions::default(),
        }
    }
}

/// The result of a surge study.
#[derive(Debug, Clone)]
pub struct SurgeStudy {
    /// The drive studied.
    pub drive: Drive,
    /// Settings it was made with.
    pub options: SurgeOptions,
    /// The runs, forward and reverse.
    pub directions: [DirectionRuns; 2],
    /// Peak currents by part and run.
    pub peaks: Vec<PartPeaks>,
    /// How bad the joint studied may get, forward and reverse.
    pub thresholds: [StallThreshold; 2],
    /// Stalled, with a good joint and with the joint at its threshold, both directions.
    pub stalled: Vec<StalledCase>,
    /// Where the volts go, forward: at rest, at the surge's peak, at the end of the hold.
    pub volts: Vec<VoltsLost>,
    /// The figures that the checks look at.
    pub facts: Facts,
    /// Every requirement with its verdict.
    pub checks: Vec<Check>,
    /// Curves of the picture: current against time, trip band, cable limit, rms since energising.
    pub picture: TripPicture,
}

/// Studies a drive with the default settings.
///
/// # Errors
/// A description that cannot be a drive; a run whose equations cannot be solved on.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::surge::surge_study;
///
/// let study = surge_study(&Drive::from_toml_str(BOAT_LIFT)?)?;
/// for check in &study.checks {
///     println!("{}: {}", check.requirement, check.verdict);
/// }
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn surge_study(drive: &Drive) -> Result<SurgeStudy, Error> {
    surge_study_with(drive, &SurgeOptions::default(), &mut |_| Flow::Continue)
}

/// Studies a drive with settings and a watcher, whose progress counts the runs.
///
/// # Errors
/// As for [`surge_study`]; [`Error::Cancelled`] when the watcher stops it.
pub fn surge_study_with(drive: &Drive, options: &SurgeOptions, watcher: Watcher) -> Result<SurgeStudy, Error> {
    drive.check()?;
    let mut runs = |direction: Direction, done: f64| {
        let mut share = |progress: Progress| {
            let part = 0.5 * (done + progress.time / progress.until);
            watcher(Progress { time: part, until: 1.0, steps: progress.steps })
        };
        DirectionRuns::make(drive, direction, options, &mut share)
    };
    let directions = [runs(Direction::Forward, 0.0)?, runs(Direction::Reverse, 1.0)?];
    let peaks = peaks::peaks(drive, &directions)?;
    let thresholds = stalled::thresholds(drive, &options.joint)?;
    let stalled = stalled::cases(drive, options, &thresholds)?;
    let volts = volts::lost(drive, &directions[0])?;
    let picture = curves::picture(drive, &directions[0])?;
    let facts = Facts::of(drive, &directions)?;
    let [forward, reverse] = &directions;
    let trips = [DirectionTrips::of(drive, forward, options)?, DirectionTrips::of(drive, reverse, options)?];
    let mut checks = checks::checks(drive, &facts, &trips);
    checks.extend(facts.directions.iter().map(checks::joints::check));
    checks.extend(protection::checks(drive, facts.fault_current));
    checks.extend(stalled::checks(drive, &stalled));
    Ok(SurgeStudy {
        drive: drive.clone(),
        options: options.clone(),
        directions,
        peaks,
        thresholds,
        stalled,
        volts,
        facts,
        checks,
        picture,
    })
}
