//! What the runs of a study showed, without the runs: every figure that a requirement looks at.

mod coil;
mod contacts;
mod direction;
mod supply;
mod waveform;
mod weld;

pub use coil::PullIn;
pub use direction::DirectionFacts;
pub use supply::SupplyFacts;
pub use waveform::Waveform;
pub use weld::WeldFacts;

use super::DirectionRuns;
use crate::drive::Drive;
use crate::error::Error;
use crate::report::quantity;

/// A figure, and where it was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The figure, in SI.
    pub value: f64,
    /// Time in its run, s.
    pub time: f64,
    /// Run, direction and time in words: "start forward, at 25.7 ms".
    pub when: String,
}

impl Found {
    pub(super) fn new(value: f64, time: f64, what: &str) -> Self {
        Self { value, time, when: format!("{what}, at {}", quantity(time, "s")) }
    }

    /// The larger of two.
    pub(super) fn larger(known: Option<Self>, other: Self) -> Option<Self> {
        Some(known.filter(|known| !(other.value > known.value)).unwrap_or(other))
    }

    /// The smaller of two.
    pub(super) fn smaller(known: Option<Self>, other: Self) -> Option<Self> {
        Some(known.filter(|known| !(other.value < known.value)).unwrap_or(other))
    }
}

/// Everything that the requirements look at, both directions.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Forward and reverse.
    pub directions: [DirectionFacts; 2],
    /// Largest current of a main contact: whatever flows in it was made by it.
    pub made_by_main: Option<Found>,
    /// Largest current that a rest contact made.
    pub made_by_rest: Option<Found>,
    /// Arcs that never go out: the first, in words, and how many.
    pub arcs_that_stay: (Option<String>, usize),
    /// The first arc that outlives the full gap but goes out.
    pub arc_that_lingers: Option<String>,
    /// What may weld contacts.
    pub weld: WeldFacts,
    /// The first time that the battery's management cut off, in words.
    pub cut_off: Option<String>,
    /// Steady current of a dead short right behind the breaker, A.
    pub fault_current: f64,
}

impl Facts {
    /// Takes the figures from the runs in both directions.
    pub(crate) fn of(drive: &Drive, directions: &[DirectionRuns; 2]) -> Result<Self, Error> {
        let [forward, reverse] = directions;
        let arcs = contacts::arcs(directions);
        Ok(Self {
            directions: [DirectionFacts::of(drive, forward)?, DirectionFacts::of(drive, reverse)?],
            made_by_main: contacts::made_by_main(directions)?,
            made_by_rest: contacts::made_by_rest(directions)?,
            arcs_that_stay: (arcs.stay.first().cloned(), arcs.stay.len()),
            arc_that_lingers: arcs.linger,
            weld: WeldFacts::of(drive, directions)?,
            cut_off: supply::cut_off(directions),
            fault_current: drive.dead_short()?,
        })
    }

    /// The largest of a figure of both directions.
    pub fn largest(&self, figure: impl Fn(&DirectionFacts) -> &Found) -> &Found {
        let [forward, reverse] = &self.directions;
        let (forward, reverse) = (figure(forward), figure(reverse));
        if reverse.value > forward.value { reverse } else { forward }
    }
}
