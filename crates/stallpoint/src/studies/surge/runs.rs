//! The runs that a surge study looks at.

use super::SurgeOptions;
use crate::circuit::{Ending, Progress, Run, TransientOptions, Watcher};
use crate::drive::{Control, Direction, Drive, Start, StartOptions};
use crate::error::Error;
use crate::parts::load::{Load, ResistingTorque};
use crate::quantity::Torque;

/// Breakaway torque of a blocked shaft, N·m: more than any motor has.
const BLOCKED: f64 = 1e9;

/// The runs in one direction.
#[derive(Debug, Clone)]
pub struct DirectionRuns {
    /// The direction.
    pub direction: Direction,
    /// From rest, held.
    pub start: Start,
    /// What follows when the control is released after the start.
    pub release: Run,
    /// With the shaft blocked, held.
    pub stalled: Start,
    /// What follows when the control is released with the shaft blocked.
    pub stalled_release: Run,
    /// What follows when the control is reversed after the start.
    pub reversal: Run,
}

impl DirectionRuns {
    pub(super) fn make(
        drive: &Drive,
        direction: Direction,
        options: &SurgeOptions,
        watcher: Watcher,
    ) -> Result<Self, Error> {
        // Simulated time is the progress: the runs' spans one after the other.
        let spans = [options.hold, options.tail, options.pause + options.hold, options.stalled_hold, options.tail];
        let until: f64 = spans.iter().sum();
        let (mut before, mut last) = (0.0, 0.0);
        let mut share = |progress: Progress| {
            // Time that falls back is the next run's start.
            if progress.time < last {
                before += last;
            }
            last = progress.time;
            watcher(Progress { time: (before + progress.time).min(until), until, steps: progress.steps })
        };
        let start = drive.start_watched(direction, &start_options(options, options.hold), &mut share)?;
        complete(&start.run)?;
        let held = Control::new().call(direction, 0.0, options.hold)?;
        let release = after(drive, &held, &start.run, options, options.tail, &mut share)?;
        let turned = options.hold + options.pause;
        let reversed = held.clone().call(direction.opposite(), turned, turned + 2.0 * options.hold)?;
        let reversal = after(drive, &reversed, &start.run, options, options.pause + options.hold, &mut share)?;

        let blocked = blocked(drive);
        let stalled = blocked.start_watched(direction, &start_options(options, options.stalled_hold), &mut share)?;
        complete(&stalled.run)?;
        let held = Control::new().call(direction, 0.0, options.stalled_hold)?;
        let stalled_release = after(&blocked, &held, &stalled.run, options, options.tail, &mut share)?;
        Ok(Self { direction, start, release, stalled, stalled_release, reversal })
    }

    /// The runs with what they are called.
    pub fn named(&self) -> [(&'static str, &Run); 5] {
        [
            ("start", &self.start.run),
            ("release", &self.release),
            ("stalled start", &self.stalled.run),
            ("stalled release", &self.stalled_release),
            ("reversal", &self.reversal),
        ]
    }
}

/// The drive with its shaft blocked.
pub(super) fn blocked(drive: &Drive) -> Drive {
    let mut blocked = drive.clone();
    blocked.load.push(Load::ResistingTorque(ResistingTorque {
        breakaway: Torque::from_si(BLOCKED),
        ..ResistingTorque::none()
    }));
    blocked
}

fn start_options(options: &SurgeOptions, hold: f64) -> StartOptions {
    StartOptions { hold, transient: options.transient.clone() }
}

/// Goes on from the end of a run with another control.
fn after(
    drive: &Drive,
    control: &Control,
    before: &Run,
    options: &SurgeOptions,
    time: f64,
    watcher: Watcher,
) -> Result<Run, Error> {
    let start = before.state_at_end();
    let until = start.as_ref().map_or(0.0, |state| state.time) + time;
    let transient = TransientOptions { start, ..options.transient.clone() };
    let run = drive.run_with(control, until, &transient, watcher)?;
    complete(&run)?;
    Ok(run)
}

/// A study needs whole runs.
fn complete(run: &Run) -> Result<(), Error> {
    match run.ending {
        Ending::Finished | Ending::StoppedAtEvent => Ok(()),
        Ending::Cancelled => Err(Error::Cancelled),
        Ending::StepLimit => Err(Error::option("max_steps", "reached", "more, for this study needs whole runs")),
    }
}
