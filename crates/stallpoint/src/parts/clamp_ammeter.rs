//! Clamp ammeter.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;

use super::branch_current;
use crate::circuit::{At, Part, Path, Stamp, Terminal, Tie, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{Frequency, IntoQuantity, Time};

/// A clamp ammeter with a bandwidth: the reading follows the current by `τ dy/dt = i - y`, `τ = 1 / (2π f)`.
///
/// As a part it is a piece of wire with the clamp around it: no voltage from `a` to `b`. Round a part of a finished run it is
/// read afterwards: see [`read_run`](ClampAmmeter::read_run) and [`peak_hold`](ClampAmmeter::peak_hold).
///
/// States: `current` (A, true), `reading` (A, as shown).
///
/// Limits: one low-pass of the first order; no offset, range, remanence or error of position.
///
/// Source: the definition of a first-order bandwidth at -3 dB. Default 1 kHz and a window of 100 ms: typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::ClampAmmeter;
///
/// let clamp = ClampAmmeter::new("400 Hz")?;
/// assert!((clamp.time_constant() - 397.9e-6).abs() < 1e-7);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ClampAmmeter {
    /// Frequency at which the reading is 3 dB down, Hz.
    pub bandwidth: Frequency,
    /// How long peak hold watches, s.
    pub peak_window: Time,
}

impl Default for ClampAmmeter {
    fn default() -> Self {
        Self { bandwidth: Frequency::from_si(1e3), peak_window: Time::from_si(0.1) } // typical, no source
    }
}

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const Y: usize = 3;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl ClampAmmeter {
    /// A clamp of another bandwidth (Hz, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit; a bandwidth that is not above zero.
    pub fn new(bandwidth: impl IntoQuantity<Frequency>) -> Result<Self, Error> {
        let clamp = Self { bandwidth: super::quantity("bandwidth", bandwidth)?, ..Self::default() };
        clamp.check()?;
        Ok(clamp)
    }

    /// Time constant of its reading, s.
    pub fn time_constant(&self) -> f64 {
        1.0 / (TAU * self.bandwidth.si())
    }
}

impl Part for ClampAmmeter {
    fn kind(&self) -> &'static str {
        "clamp ammeter"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("bandwidth", self.bandwidth)?;
        super::above_zero("peak_window", self.peak_window)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0), Unknown::fast("reading", "A", 1.0)]
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(A, B, Tie::FixesVoltage)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        branch_current(at, out, A, B, I);
        out.f(I, at.x(A) - at.x(B));
        out.df(I, A, 1.0);
        out.df(I, B, -1.0);

        let tau = self.time_constant();
        out.q(Y, tau * at.x(Y));
        out.dq(Y, Y, tau);
        out.f(Y, at.x(Y) - at.x(I));
        out.df(Y, Y, 1.0);
        out.df(Y, I, -1.0);
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
