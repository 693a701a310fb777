//! Motors.

mod permanent_magnet;

pub use permanent_magnet::PermanentMagnetMotor;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::Part;

/// A motor of any kind, told apart by `kind` in files.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Motor {
    /// Permanent-magnet motor.
    PermanentMagnet(PermanentMagnetMotor),
}

impl Motor {
    /// The motor as a part.
    pub fn part(&self) -> &dyn Part {
        match self {
            Self::PermanentMagnet(motor) => motor,
        }
    }
}
