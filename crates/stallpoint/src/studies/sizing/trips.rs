//! How far the breaker's or fuse's integrals get over the currents that are known.

use super::SizingOptions;
use crate::drive::Protection;
use crate::studies::surge::{DirectionFacts, DirectionTrips, Facts, Fractions, Waveform};

/// Repeated short starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jogs {
    /// How many.
    pub count: u32,
    /// How long each is held, s.
    pub on: f64,
    /// How long each pause is, s.
    pub off: f64,
}

impl Default for Jogs {
    /// Ten of half a second with a second between (typical, no source).
    fn default() -> Self {
        Self { count: 10, on: 0.5, off: 1.0 }
    }
}

/// Trip fractions of one direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reached {
    /// From cold: the start and the reversal after it.
    pub cold: DirectionTrips,
    /// A start right after the drive has run.
    pub warm: Fractions,
    /// Repeated jogs from cold; every start is like the first.
    pub jogs: Fractions,
}

/// Trip fractions of both directions.
pub(super) fn reached(device: &Protection, facts: &Facts, options: &SizingOptions) -> [Reached; 2] {
    let [forward, reverse] = &facts.directions;
    [forward, reverse].map(|facts| direction(device, facts, options.jogs))
}

fn direction(device: &Protection, facts: &DirectionFacts, jogs: Jogs) -> Reached {
    let [fast, slow] = [0.0, 1.0].map(|edge| one(device, edge, facts, jogs));
    let both = |k: usize| Fractions { fastest: fast[k], slowest: slow[k] };
    Reached { cold: DirectionTrips { start: both(0), reversal: both(1) }, warm: both(2), jogs: both(3) }
}

/// Start, reversal, warm start, jogs of the device on one edge.
fn one(device: &Protection, edge: f64, facts: &DirectionFacts, jogs: Jogs) -> [f64; 4] {
    let over = |wave: &Waveform, from: f64| device.accumulate(edge, &wave.time, &wave.value, from);
    let start = over(&facts.start_current, 0.0);
    let reversal = over(&facts.reversal_current, start.last);
    // After a long run; a current beyond the pick-up is another requirement's matter.
    let running = facts.breaker_at_end;
    let settled = if running <= device.trips_from(edge) {
        device.accumulate(edge, &[0.0, LONG], &[running, running], start.last).last
    } else {
        start.last
    };
    let warm = over(&facts.start_current, start.last.max(settled));
    let jog = facts.start_current.until(jogs.on);
    let (mut a, mut largest) = (0.0_f64, 0.0_f64);
    for _ in 0..jogs.count {
        let on = over(&jog, a);
        largest = largest.max(on.largest);
        a = device.accumulate(edge, &[0.0, jogs.off], &[0.0, 0.0], on.last).last;
    }
    [start.largest, reversal.largest, warm.largest, largest]
}

/// Long enough for a thermal replica to settle, s.
const LONG: f64 = 1e7;
