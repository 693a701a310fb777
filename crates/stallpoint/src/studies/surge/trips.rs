//! How far the breaker's integrals got, on both edges of its trip band.

use super::SurgeOptions;
use super::runs::{DirectionRuns, slowest_reversal};
use crate::circuit::{Run, Signal};
use crate::drive::{Drive, Trips};
use crate::error::Error;

/// The largest accumulated trip fraction of the fastest and of the slowest device.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fractions {
    /// Of the fastest device; it opens at 1.
    pub fastest: f64,
    /// Of the slowest device.
    pub slowest: f64,
}

impl Fractions {
    /// Whether devices of this band open.
    pub fn trips(&self) -> Trips {
        match () {
            () if self.slowest >= 1.0 => Trips::Will,
            () if self.fastest >= 1.0 => Trips::May,
            () => Trips::No,
        }
    }
}

/// Fractions of the runs in one direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DirectionTrips {
    /// From rest, held.
    pub start: Fractions,
    /// Reversed after the start.
    pub reversal: Fractions,
}

impl DirectionTrips {
    /// From the breaker's own states. Where the device at its own position opened, the slow edge saw only a part: for the
    /// start that is known from its repetition with the slowest device, the reversal is repeated here.
    pub(super) fn of(drive: &Drive, runs: &DirectionRuns, options: &SurgeOptions) -> Result<Self, Error> {
        let start = Fractions {
            slowest: known(reached(drive, &runs.start)?, runs.start.surge.trips),
            ..reached(drive, &runs.start)?
        };
        let mut reversal = reached(drive, &runs.reversal)?;
        let device = drive.protection();
        let opened = runs.reversal.events.iter().any(|e| e.part == device.name() && e.what.contains(device.opens()));
        if opened && reversal.slowest < 1.0 && device.band_position() < 1.0 {
            reversal.slowest = reached(drive, &slowest_reversal(drive, runs, options)?)?.slowest;
        }
        Ok(Self { start, reversal })
    }
}

/// The slow edge's fraction as far as the verdict needs it.
fn known(reached: Fractions, trips: Trips) -> f64 {
    match trips {
        Trips::Will => reached.slowest.max(1.0),
        Trips::May | Trips::No => reached.slowest,
    }
}

fn reached(drive: &Drive, run: &Run) -> Result<Fractions, Error> {
    let max = |edge: &str| -> Result<f64, Error> {
        Ok(run.extremes(&Signal::State(drive.protection().name().into(), format!("trip_fraction_{edge}")))?.max)
    };
    Ok(Fractions { fastest: max("fastest")?, slowest: max("slowest")? })
}
