//! Where the points are, and what a measurement costs there.

use super::measurement::{Measurement, Tool};
use super::position::Held;

/// A place where a technician works.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// Battery, isolator, breaker or fuse.
    Battery,
    /// Contactor, motor, case.
    Contactor,
    /// The control switch.
    Switch,
}

pub(super) fn place(point: &str) -> Place {
    let starts = |words: &[&str]| words.iter().any(|word| point.starts_with(word));
    if starts(&["battery", "isolator", "breaker", "fuse"]) {
        Place::Battery
    } else if starts(&["control"]) {
        Place::Switch
    } else {
        Place::Contactor
    }
}

/// Whether a point carries the motor's current.
fn high_current(point: &str) -> bool {
    !["control", "coil", "case"].iter().any(|word| point.starts_with(word))
}

/// What a measurement costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// Time, min.
    pub minutes: f64,
    /// Weight of its danger, 1 for none.
    pub risk: f64,
}

impl Cost {
    /// Minutes weighed by danger.
    pub fn weighed(self) -> f64 {
        self.minutes * self.risk
    }
}

impl Measurement {
    /// Time and danger (typical, no source): probes in two places need a long lead; live studs that carry the motor's current
    /// count half as much again, and twice while the motor is held; an ohmmeter needs the drive isolated and proved dead first.
    pub fn cost(&self) -> Cost {
        if self.tool.probes() == 0 {
            return Cost { minutes: if self.tool == Tool::WatchBreaker { 0.6 } else { 0.3 }, risk: 1.0 };
        }
        let points = [&self.plus, &self.minus].map(String::as_str);
        let apart = self.tool.probes() == 2 && place(points[0]) != place(points[1]);
        let minutes = match self.tool {
            Tool::Ohmmeter => 4.0,
            Tool::TestLamp => 1.2,
            _ => 1.0,
        };
        let live = points.iter().any(|point| high_current(point)) && self.held != Held::Isolated;
        let risk = match (live, self.held) {
            (true, Held::Forward | Held::Reverse) => 2.0,
            (true, _) => 1.5,
            (false, Held::Isolated) => 1.0,
            (false, _) => 1.1,
        };
        Cost { minutes: minutes + if apart { 2.0 } else { 0.0 }, risk }
    }
}
