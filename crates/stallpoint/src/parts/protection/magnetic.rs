//! The magnetic element of a breaker.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::integrals::{DROP_BACK, FASTEST};
use crate::circuit::{At, Change};
use crate::error::PartError;
use crate::quantity::Time;

/// An instantaneous trip: a current above its multiple for `operating_time` opens the breaker.
///
/// The fastest device operates at `fastest` times the rated current, the slowest at `slowest`, one between at
/// `fastest^(1-p) slowest^p`. It has no memory: a current that falls below within the operating time leaves nothing. The
/// ambient does not rescale it.
///
/// Limits: an element made for alternating current answers its crest; on direct current it needs up to 1.4 times as much
/// (from memory: use your data sheet).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MagneticTrip {
    /// Multiple of the rated current at which the fastest device operates.
    pub fastest: f64,
    /// Multiple of the rated current at which the slowest device operates.
    pub slowest: f64,
    /// From passing the multiple to parting, s (default typical, no source).
    #[serde(default = "eight_milliseconds")]
    pub operating_time: Time,
}

fn eight_milliseconds() -> Time {
    Time::from_si(8e-3)
}

impl MagneticTrip {
    /// An element that operates between two multiples of the rated current, in 8 ms (typical, no source).
    pub fn new(fastest: f64, slowest: f64) -> Self {
        Self { fastest, slowest, operating_time: eight_milliseconds() }
    }

    /// The multiple at which a device at `position` operates.
    pub fn multiple(&self, position: f64) -> f64 {
        let p = position.clamp(0.0, 1.0);
        // At the edges the multiples as given, to the last bit.
        match p {
            0.0 => self.fastest,
            1.0 => self.slowest,
            p => self.fastest.powf(1.0 - p) * self.slowest.powf(p),
        }
    }

    /// Its time, s, under a steady current; none when it does not operate.
    pub fn time(&self, position: f64, multiple: f64) -> Option<f64> {
        (multiple > self.multiple(position)).then(|| self.operating_time.si())
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        let (fastest, slowest) = (self.fastest, self.slowest);
        if !(fastest > 0.0 && fastest.is_finite()) {
            return Err(PartError::range("magnetic.fastest", fastest, "above 0"));
        }
        if !(slowest >= fastest && slowest.is_finite()) {
            return Err(PartError::range("magnetic.slowest", slowest, "at least magnetic.fastest"));
        }
        crate::parts::above_zero("magnetic.operating_time", self.operating_time)
    }
}

/// Deadlines of the three elements in a memory: infinite below the multiple, minus infinite when operated.
pub(super) const TIMERS: usize = 3;

/// A magnetic element made ready: of the fastest edge, the slowest edge and the device's own position.
#[derive(Debug, Clone)]
pub(super) struct Elements {
    /// Current of each, A.
    pub(super) levels: [f64; TIMERS],
    pub(super) operating_time: f64,
}

/// Index of the device's own element.
const OWN: usize = 2;

impl Elements {
    pub(super) fn guard_values(&self, current: f64, timers: &[f64], out: &mut [f64]) {
        for ((out, &level), &timer) in out.iter_mut().zip(&self.levels).zip(timers) {
            *out = if timer == f64::INFINITY { current - level } else { level * (1.0 - DROP_BACK) - current };
        }
    }

    /// A guard fired at `t`: starts or clears the timer, by where the current really is.
    pub(super) fn pass(&self, element: usize, t: f64, current: f64, timers: &mut [f64]) {
        let above = current > self.levels[element] * (1.0 - 0.5 * DROP_BACK);
        match (above, timers[element] == f64::INFINITY) {
            (true, true) => timers[element] = t + self.operating_time,
            (false, false) => timers[element] = f64::INFINITY,
            _ => {}
        }
    }

    /// The elements whose deadline is `due` have operated: each counts as a whole trip. Returns whether the own one did.
    pub(super) fn operate(due: f64, at: &At, change: &mut Change, first: usize) -> bool {
        let mut own = false;
        for element in 0..TIMERS {
            if change.memory.numbers[first + element] != due {
                continue;
            }
            change.memory.numbers[first + element] = f64::NEG_INFINITY;
            let integral = FASTEST + element;
            change.reset(integral, at.x(integral).max(1.0));
            own |= element == OWN;
        }
        own
    }
}
