//! What the coils saw.

use super::Found;
use super::direction::end;
use crate::circuit::{Run, Signal};
use crate::drive::Direction;
use crate::error::Error;
use crate::studies::surge::DirectionRuns;
use crate::studies::surge::checks::event;

/// A coil energised, until its set makes.
#[derive(Debug, Clone, PartialEq)]
pub struct PullIn {
    /// In which run: "start forward", "reversal to reverse".
    pub what: String,
    /// When the set makes, s of its run; none when it does not.
    pub makes: Option<f64>,
    /// Lowest voltage at the coil from energising until then, V; over the whole run when it does not make.
    pub lowest: f64,
}

/// From the closing of the control switch until the coil's voltage is there, s: far below any operate time.
const SETTLES: f64 = 1e-6;

pub(super) fn voltage(direction: Direction) -> Signal {
    Signal::Between(format!("coil_{}", direction.letter()), "coil_return".into())
}

fn set_makes(direction: Direction) -> String {
    format!("set {} makes", direction.letter().to_uppercase())
}

/// On the start, and on the reversal.
pub(super) fn pull_ins(runs: &DirectionRuns) -> Result<[PullIn; 2], Error> {
    let (there, back) = (runs.direction, runs.direction.opposite());
    let of = |run: &Run, direction: Direction, from: f64, what: String| -> Result<PullIn, Error> {
        let makes = event(run, "contactor", &set_makes(direction));
        // Not the row before the switch closes, nor the instant in which the wires charge.
        let from = if from > 0.0 { from + SETTLES } else { from };
        let lowest = run.extremes_between(&voltage(direction), from, makes.unwrap_or(f64::INFINITY))?.min;
        Ok(PullIn { what, makes, lowest })
    };
    let energised = event(&runs.reversal, &format!("control_switch_{}", back.letter()), "closes");
    Ok([
        of(&runs.start, there, 0.0, format!("start {there}"))?,
        of(&runs.reversal, back, energised.unwrap_or(f64::INFINITY), format!("reversal to {back}"))?,
    ])
}

/// The lowest voltage at the coil of a set that has made.
pub(super) fn holding(runs: &DirectionRuns) -> Result<Option<Found>, Error> {
    let (there, back) = (runs.direction, runs.direction.opposite());
    let watched: [(String, &Run, Direction); 3] = [
        (format!("start {there}"), &runs.start, there),
        (format!("stalled start {there}"), &runs.stalled, there),
        (format!("reversal to {back}"), &runs.reversal, back),
    ];
    let mut lowest = None;
    for (what, run, direction) in watched {
        let Some(makes) = event(run, "contactor", &set_makes(direction)) else { continue };
        let found = run.extremes_between(&voltage(direction), makes, f64::INFINITY)?;
        lowest = Found::smaller(lowest, Found::new(found.min, found.min_at, &what));
    }
    Ok(lowest)
}

/// How often the contactor let go while energised: in the start, stalled, after the reversal has called for the other set.
pub(super) fn drop_outs(runs: &DirectionRuns) -> [usize; 3] {
    let back = runs.direction.opposite();
    let called =
        event(&runs.reversal, &format!("control_switch_{}", back.letter()), "closes").unwrap_or(end(&runs.reversal));
    let own = format!("set {} drops out", back.letter().to_uppercase());
    let reversed = runs
        .reversal
        .events
        .iter()
        .filter(|event| event.part == "contactor" && event.time > called && event.what.contains(&own));
    [runs.start.surge.dropouts, runs.stalled.surge.dropouts, reversed.count()]
}
