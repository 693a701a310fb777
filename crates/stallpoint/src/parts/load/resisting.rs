//! A torque that opposes motion.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::TERMINALS;
use super::about::{AboutLoad, torque};
use crate::circuit::{At, DryFriction, Part, Power, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Inertia, IntoQuantity, Torque};

/// A torque that opposes motion and holds at rest: `running` while the shaft turns, up to `breakaway` while it stands.
/// Both go to the shaft's dry friction.
///
/// # Example
/// ```
/// let gate = stallpoint::parts::load::ResistingTorque::new("3 N m", "3.6 N m")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResistingTorque {
    /// Torque against the motion, N·m.
    pub running: Torque,
    /// Torque to start moving, N·m; `running` when it is less.
    #[serde(default)]
    pub breakaway: Torque,
    /// Inertia it adds to the shaft, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

impl ResistingTorque {
    /// No torque at all.
    pub(crate) fn none() -> Self {
        Self { running: Torque::default(), breakaway: Torque::default(), inertia: Inertia::default() }
    }

    /// A resisting torque (N·m, or texts with units).
    ///
    /// # Errors
    /// A wrong unit or a negative torque.
    pub fn new(running: impl IntoQuantity<Torque>, breakaway: impl IntoQuantity<Torque>) -> Result<Self, Error> {
        let load = Self {
            running: crate::parts::quantity("running", running)?,
            breakaway: crate::parts::quantity("breakaway", breakaway)?,
            inertia: Inertia::default(),
        };
        load.check()?;
        Ok(load)
    }
}

impl AboutLoad for ResistingTorque {
    fn in_words(&self) -> String {
        let breakaway = self.breakaway.si().max(self.running.si());
        format!("opposes motion with {}, {} to break away", torque(self.running.si()), torque(breakaway))
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        vec![("running", factor * self.running.si()), ("breakaway", factor * self.breakaway.si())]
    }
}

impl Part for ResistingTorque {
    fn kind(&self) -> &'static str {
        "resisting torque"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        crate::parts::not_negative("running", self.running)?;
        crate::parts::not_negative("breakaway", self.breakaway)?;
        crate::parts::not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, _at: &At, _out: &mut Stamp) {
        // The shaft owns dry friction: see `dry_friction`.
    }

    fn power(&self, _at: &At) -> Power {
        Power::default() // booked by the shaft
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
    }

    fn dry_friction(&self) -> DryFriction {
        DryFriction { running: self.running.si(), breakaway: self.breakaway.si() }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
