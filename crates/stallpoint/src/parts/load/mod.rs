//! Loads on a shaft.

mod gravity;
mod quadratic;
mod resisting;
mod viscous;

pub use gravity::GravityTorque;
pub use quadratic::QuadraticTorque;
pub use resisting::ResistingTorque;
pub use viscous::ViscousTorque;

use crate::circuit::{Terminal, shaft};

/// Local index of the shaft's speed.
const SHAFT: usize = 0;
const TERMINALS: [Terminal; 1] = [shaft("shaft")];
