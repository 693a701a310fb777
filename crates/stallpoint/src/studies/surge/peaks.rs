//! Peak currents by part and run.

use super::DirectionRuns;
use crate::circuit::{Run, Signal};
use crate::drive::{Direction, Drive};
use crate::error::Error;

/// The largest current of one part in every run.
#[derive(Debug, Clone, PartialEq)]
pub struct PartPeaks {
    /// The part, or the contact of the contactor.
    pub part: &'static str,
    /// Direction, run, peak as a magnitude in A, time in s.
    pub peaks: Vec<(Direction, &'static str, f64, f64)>,
}

impl PartPeaks {
    /// The largest of all: direction, run, A, s.
    pub fn largest(&self) -> Option<(Direction, &'static str, f64, f64)> {
        self.peaks.iter().copied().max_by(|a, b| a.2.total_cmp(&b.2))
    }
}

/// What is followed: name, part, and for a contact its state.
const FOLLOWED: [(&str, &str, Option<&str>); 8] = [
    ("battery", "battery", None),
    ("breaker", "breaker", None),
    ("supply cable", "supply_cable", None),
    ("contact supply to motor A", "contactor", Some("supply_a_current")),
    ("contact ground to motor A", "contactor", Some("ground_a_current")),
    ("contact supply to motor B", "contactor", Some("supply_b_current")),
    ("contact ground to motor B", "contactor", Some("ground_b_current")),
    ("motor", "motor", None),
];

/// Peak magnitude of a part's current in a run, A, and when, s.
pub(super) fn peak(run: &Run, part: &str, state: Option<&str>) -> Result<(f64, f64), Error> {
    let signal = match state {
        Some(state) => Signal::State(part.into(), state.into()),
        None => Signal::Current(part.into()),
    };
    Ok(crate::drive::largest(&run.extremes(&signal)?))
}

pub(super) fn peaks(drive: &Drive, directions: &[DirectionRuns]) -> Result<Vec<PartPeaks>, Error> {
    let mut all = Vec::new();
    let device = drive.protection().name();
    for (name, part, state) in FOLLOWED {
        let [name, part] = [name, part].map(|own| if own == "breaker" { device } else { own });
        let mut peaks = Vec::new();
        for runs in directions {
            for (what, run) in runs.named() {
                let (value, time) = peak(run, part, state)?;
                peaks.push((runs.direction, what, value, time));
            }
        }
        all.push(PartPeaks { part: name, peaks });
    }
    Ok(all)
}
