//! A torque that grows with the square of speed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, torque};
use super::{SHAFT, TERMINALS};
use crate::circuit::{At, Part, Power, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Inertia, IntoQuantity, QuadraticDrag};

/// A torque against motion that grows with the square of speed: `T = c ω |ω|`, a fan or a propeller.
///
/// # Example
/// ```
/// let fan = stallpoint::parts::load::QuadraticTorque::new("1e-4 N m s2/rad2")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct QuadraticTorque {
    /// Coefficient `c`, N·m·s²/rad².
    pub coefficient: QuadraticDrag,
    /// Inertia it adds to the shaft, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

impl QuadraticTorque {
    /// A quadratic torque (N·m·s²/rad², or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit or a negative coefficient.
    pub fn new(coefficient: impl IntoQuantity<QuadraticDrag>) -> Result<Self, Error> {
        let load =
            Self { coefficient: crate::parts::quantity("coefficient", coefficient)?, inertia: Inertia::default() };
        load.check()?;
        Ok(load)
    }
}

impl AboutLoad for QuadraticTorque {
    fn in_words(&self) -> String {
        format!("opposes motion with {} at 100 rad/s, as the speed squared", torque(1e4 * self.coefficient.si()))
    }
}

impl Part for QuadraticTorque {
    fn kind(&self) -> &'static str {
        "quadratic torque"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        crate::parts::not_negative("coefficient", self.coefficient)?;
        crate::parts::not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (c, omega) = (self.coefficient.si(), at.x(SHAFT));
        out.f(SHAFT, c * omega * omega.abs());
        out.df(SHAFT, SHAFT, 2.0 * c * omega.abs());
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: self.coefficient.si() * at.x(SHAFT).abs().powi(3) }
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
