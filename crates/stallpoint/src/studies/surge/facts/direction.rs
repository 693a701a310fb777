//! The figures of one direction.

use super::Found;
use super::coil::{self, PullIn};
use super::supply::SupplyFacts;
use super::waveform::Waveform;
use crate::circuit::{Run, Signal};
use crate::drive::{Direction, Drive, largest};
use crate::error::Error;
use crate::studies::surge::volts::in_row;
use crate::studies::surge::{DirectionRuns, Held, VoltsLost};

/// What the runs in one direction showed.
#[derive(Debug, Clone, PartialEq)]
pub struct DirectionFacts {
    /// The direction.
    pub direction: Direction,
    /// How the drive is at the end of its hold.
    pub held: Held,
    /// How long the start was held, s.
    pub hold: f64,
    /// How long the stalled start was held, s.
    pub stalled_hold: f64,
    /// Time to 95 % of the settled speed, s; none when it is not reached.
    pub time_to_speed: Option<f64>,
    /// ∫ i² dt through the breaker or fuse until the time to speed, or over the whole start when that is not reached, A²s.
    pub surge_i2t: f64,
    /// Current through the breaker or fuse at the end of the hold, A.
    pub breaker_at_end: f64,
    /// Current through the motor at the end of the hold, A.
    pub motor_at_end: f64,
    /// The loop's voltages at the end of the hold.
    pub volts_at_end: VoltsLost,
    /// Largest current through the breaker or fuse in any run, as a magnitude, A.
    pub breaker_peak: Found,
    /// Largest current through the motor in any run, as a magnitude, A.
    pub motor_peak: Found,
    /// Largest current through the motor with its shaft blocked, A.
    pub locked_peak: Found,
    /// Pull-in on the start and on the reversal.
    pub pull_ins: [PullIn; 2],
    /// Lowest voltage at the energised coil of a set that has made, V, in any run; none when none makes.
    pub holding: Option<Found>,
    /// How often the contactor let go while energised: in the start, stalled, after the reversal.
    pub drop_outs: [usize; 3],
    /// The battery's figures.
    pub supply: SupplyFacts,
    /// Current through the breaker or fuse, of the start.
    pub start_current: Waveform,
    /// Current through the breaker or fuse, from the end of the start through the reversal.
    pub reversal_current: Waveform,
}

impl DirectionFacts {
    /// Whether the contactor pulls in on the start: without it no other figure of the direction means anything.
    pub fn pulls_in(&self) -> bool {
        self.pull_ins[0].makes.is_some()
    }

    pub(super) fn of(drive: &Drive, runs: &DirectionRuns) -> Result<Self, Error> {
        // Their own unknowns: read off a row, where a terminal's current evaluates the part.
        let [breaker, motor] =
            [drive.protection().name(), "motor"].map(|part| Signal::State(part.into(), "current".into()));
        let hold = end(&runs.start);
        let last = runs.start.sample(&[hold])?;
        let stalled = format!("stalled start {}", runs.direction);
        let (current, time) = largest(&runs.stalled.extremes(&motor)?);
        Ok(Self {
            direction: runs.direction,
            held: runs.held(),
            hold,
            stalled_hold: end(&runs.stalled),
            time_to_speed: runs.start.surge.time_to_speed,
            surge_i2t: runs.start.surge.surge_i2t,
            breaker_at_end: last.current(drive.protection().name())?[0].abs(),
            motor_at_end: last.current("motor")?[0].abs(),
            volts_at_end: in_row(&last, runs.direction, String::new())?,
            breaker_peak: peak(runs, &breaker)?,
            motor_peak: peak(runs, &motor)?,
            locked_peak: Found::new(current, time, &stalled),
            pull_ins: coil::pull_ins(runs)?,
            holding: coil::holding(runs)?,
            drop_outs: coil::drop_outs(runs),
            supply: SupplyFacts::of(runs)?,
            start_current: Waveform::of(&runs.start, &breaker, f64::abs)?,
            reversal_current: Waveform::of(&runs.reversal, &breaker, f64::abs)?,
        })
    }
}

/// The largest magnitude of a signal in all runs of a direction.
fn peak(runs: &DirectionRuns, signal: &Signal) -> Result<Found, Error> {
    let mut found = None;
    for (what, run) in runs.named() {
        let (value, time) = largest(&run.extremes(signal)?);
        found = Found::larger(found, Found::new(value, time, &format!("{what} {}", runs.direction)));
    }
    Ok(found.unwrap_or(Found { value: f64::NAN, time: f64::NAN, when: String::new() })) // there are five runs
}

/// The last time of a run, s.
pub(super) fn end(run: &Run) -> f64 {
    run.time().last().copied().unwrap_or(0.0)
}
