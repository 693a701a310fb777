//! What turns.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::DryFriction;
use crate::error::{Error, PartError};
use crate::quantity::{AngularDamping, Inertia, IntoQuantity, Torque};

/// A motor's rotor: inertia and friction of its bearings and brushes.
///
/// # Example
/// ```
/// use stallpoint::parts::motor::Rotor;
///
/// let rotor = Rotor { friction: "0.05 N m".parse()?, ..Rotor::new("0.004 kg m2")? };
/// assert_eq!(rotor.breakaway.si(), 0.0); // as `friction` when less
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rotor {
    /// Inertia, kg·m².
    pub inertia: Inertia,
    /// Viscous friction `B`, N·m·s/rad.
    #[serde(default)]
    pub viscous_friction: AngularDamping,
    /// Dry friction while turning, N·m.
    #[serde(default)]
    pub friction: Torque,
    /// Dry friction to start moving, N·m; as `friction` when less.
    #[serde(default)]
    pub breakaway: Torque,
}

impl Rotor {
    /// A rotor without friction.
    ///
    /// # Errors
    /// A wrong unit; a value that is not above zero.
    pub fn new(inertia: impl IntoQuantity<Inertia>) -> Result<Self, Error> {
        let rotor = Self {
            inertia: crate::parts::quantity("inertia", inertia)?,
            viscous_friction: AngularDamping::default(),
            friction: Torque::default(),
            breakaway: Torque::default(),
        };
        rotor.check()?;
        Ok(rotor)
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, not_negative};
        above_zero("inertia", self.inertia)?;
        not_negative("viscous_friction", self.viscous_friction)?;
        not_negative("friction", self.friction)?;
        not_negative("breakaway", self.breakaway)
    }

    pub(super) fn dry_friction(&self) -> DryFriction {
        DryFriction { running: self.friction.si(), breakaway: self.breakaway.si() }
    }
}
