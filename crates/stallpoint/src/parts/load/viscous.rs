//! A torque that grows with speed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, torque};
use super::{SHAFT, TERMINALS};
use crate::circuit::{At, Part, Power, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{AngularDamping, Inertia, IntoQuantity};

/// A torque against motion proportional to speed: `T = b ω`.
///
/// # Example
/// ```
/// let oil = stallpoint::parts::load::ViscousTorque::new("2e-3 N m s/rad")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ViscousTorque {
    /// Coefficient `b`, N·m·s/rad.
    pub coefficient: AngularDamping,
    /// Inertia it adds to the shaft, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

impl ViscousTorque {
    /// A viscous torque (N·m·s/rad, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit or a negative coefficient.
    pub fn new(coefficient: impl IntoQuantity<AngularDamping>) -> Result<Self, Error> {
        let load =
            Self { coefficient: crate::parts::quantity("coefficient", coefficient)?, inertia: Inertia::default() };
        load.check()?;
        Ok(load)
    }
}

impl AboutLoad for ViscousTorque {
    fn in_words(&self) -> String {
        format!("opposes motion with {} at 100 rad/s, as the speed", torque(100.0 * self.coefficient.si()))
    }
}

impl Part for ViscousTorque {
    fn kind(&self) -> &'static str {
        "viscous torque"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        crate::parts::not_negative("coefficient", self.coefficient)?;
        crate::parts::not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let b = self.coefficient.si();
        out.f(SHAFT, b * at.x(SHAFT));
        out.df(SHAFT, SHAFT, b);
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: self.coefficient.si() * at.x(SHAFT) * at.x(SHAFT) }
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
