//! Loads on a shaft.

mod gravity;
mod quadratic;
mod resisting;
mod viscous;

pub use gravity::GravityTorque;
pub use quadratic::QuadraticTorque;
pub use resisting::ResistingTorque;
pub use viscous::ViscousTorque;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{Part, Terminal, shaft};

/// Local index of the shaft's speed.
const SHAFT: usize = 0;
const TERMINALS: [Terminal; 1] = [shaft("shaft")];

/// A load of any kind, told apart by `kind` in files.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Load {
    /// A torque that opposes motion.
    ResistingTorque(ResistingTorque),
    /// A hanging load.
    GravityTorque(GravityTorque),
    /// A torque that grows with speed.
    ViscousTorque(ViscousTorque),
    /// A torque that grows with the square of speed.
    QuadraticTorque(QuadraticTorque),
}

impl Load {
    /// The load as a part.
    pub fn part(&self) -> &dyn Part {
        match self {
            Self::ResistingTorque(load) => load,
            Self::GravityTorque(load) => load,
            Self::ViscousTorque(load) => load,
            Self::QuadraticTorque(load) => load,
        }
    }
}
