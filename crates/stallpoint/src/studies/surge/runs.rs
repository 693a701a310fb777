//! The runs that a surge study looks at.

use super::SurgeOptions;
use crate::circuit::{Ending, Flow, Progress, Run, TransientOptions, Watcher};
use crate::drive::{Control, Direction, Drive, Start, StartOptions};
use crate::error::Error;
use crate::parts::load::{Load, ResistingTorque};
use crate::quantity::Torque;

/// Breakaway torque of a blocked shaft, N·m: more than any motor has.
const BLOCKED: f64 = 1e9;

/// How a drive is at the end of its hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// The shaft turns.
    Running,
    /// The shaft stands.
    Stalled,
    /// The contactor let go and operated again: there is no settled state.
    Chattering,
    /// The breaker opened: there is no settled state.
    Tripped,
}

impl Held {
    /// Why there is no settled state, when there is none.
    pub(crate) fn unsettled(self) -> Option<&'static str> {
        match self {
            Self::Running | Self::Stalled => None,
            Self::Chattering => Some("the contactor chatters: there is no settled state to look at"),
            Self::Tripped => Some("the breaker or fuse opened during the hold: there is no settled state to look at"),
        }
    }
}

impl std::fmt::Display for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::Running => "running",
            Self::Stalled => "stalled",
            Self::Chattering => "chattering",
            Self::Tripped => "tripped",
        })
    }
}

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
    pub(crate) fn make(
        drive: &Drive,
        direction: Direction,
        options: &SurgeOptions,
        watcher: Watcher,
    ) -> Result<Self, Error> {
        let hold = options.hold;
        let start = drive.start_watched(direction, &start_options(options, hold), &mut part(watcher, 0, 0.0))?;
        complete(&start.run)?;
        let held = Control::new().call(direction, 0.0, hold)?;
        let release = after(drive, &held, &start.run, options, options.tail, &mut part(watcher, 1, hold))?;
        let reversed = reversed(direction, options)?;
        let reversal = after(drive, &reversed, &start.run, options, options.pause + hold, &mut part(watcher, 2, hold))?;

        let blocked = blocked(drive);
        let held = start_options(options, options.stalled_hold);
        let stalled = blocked.start_watched(direction, &held, &mut part(watcher, 3, 0.0))?;
        complete(&stalled.run)?;
        let held = Control::new().call(direction, 0.0, options.stalled_hold)?;
        let stalled_release =
            after(&blocked, &held, &stalled.run, options, options.tail, &mut part(watcher, 4, options.stalled_hold))?;
        Ok(Self { direction, start, release, stalled, stalled_release, reversal })
    }

    /// How the drive is at the end of the start's hold.
    pub fn held(&self) -> Held {
        let surge = &self.start.surge;
        match () {
            () if surge.dropouts > 0 => Held::Chattering,
            () if surge.tripped_at.is_some() => Held::Tripped,
            () if surge.stalled => Held::Stalled,
            () => Held::Running,
        }
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

/// The reversal with the slowest device of the trip band, from the same end of the start.
pub(super) fn slowest_reversal(drive: &Drive, runs: &DirectionRuns, options: &SurgeOptions) -> Result<Run, Error> {
    let mut slow = drive.clone();
    let slowest = crate::quantity::Fraction::from_si(1.0);
    slow.breaker.iter_mut().for_each(|breaker| breaker.band_position = slowest);
    slow.fuse.iter_mut().for_each(|fuse| fuse.band_position = slowest);
    let control = reversed(runs.direction, options)?;
    let time = options.pause + options.hold;
    after(&slow, &control, &runs.start.run, options, time, &mut |_| Flow::Continue)
}

/// A start that is turned round after its hold and a pause.
fn reversed(direction: Direction, options: &SurgeOptions) -> Result<Control, Error> {
    let turned = options.hold + options.pause;
    let held = Control::new().call(direction, 0.0, options.hold)?;
    held.call(direction.opposite(), turned, turned + 2.0 * options.hold)
}

/// Runs of a direction.
const RUNS: f64 = 5.0;

/// A watcher for a run that begins at `from` after `done` others, which tells the caller's how far the direction has come.
fn part(watcher: Watcher, done: u8, from: f64) -> impl FnMut(Progress) -> Flow {
    move |progress| {
        let share = (progress.time - from) / (progress.until - from);
        watcher(Progress { time: (f64::from(done) + share) / RUNS, until: 1.0, ..progress })
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
