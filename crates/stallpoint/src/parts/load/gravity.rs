//! A hanging load.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, torque};
use super::{SHAFT, TERMINALS};
use crate::circuit::{At, Part, Power, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Inertia, IntoQuantity, Torque};

/// An active torque `T` against forward motion, at rest and at any speed: a hanging load on a drum. It drives the shaft
/// backward when nothing holds it, and gives its energy back on the way down.
///
/// # Example
/// ```
/// let hoist = stallpoint::parts::load::GravityTorque::new("2.5 N m")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GravityTorque {
    /// Torque against forward motion, N·m; negative helps forward.
    pub torque: Torque,
    /// Inertia it adds to the shaft, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

impl GravityTorque {
    /// A gravity torque (N·m, or a text with a unit), positive against forward motion.
    ///
    /// # Errors
    /// A wrong unit or a number that is not finite.
    pub fn new(torque: impl IntoQuantity<Torque>) -> Result<Self, Error> {
        Ok(Self { torque: crate::parts::quantity("torque", torque)?, inertia: Inertia::default() })
    }
}

impl AboutLoad for GravityTorque {
    fn in_words(&self) -> String {
        format!("pulls against forward with {}, moving or not", torque(self.torque.si()))
    }

    fn may_run_away(&self) -> bool {
        true
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        vec![("torque", factor * self.torque.si())]
    }
}

impl Part for GravityTorque {
    fn kind(&self) -> &'static str {
        "gravity torque"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        crate::parts::in_range("torque", self.torque, true, "a finite number")?;
        crate::parts::not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, _at: &At, out: &mut Stamp) {
        out.f(SHAFT, self.torque.si());
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: -self.torque.si() * at.x(SHAFT), dissipated: 0.0 }
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
