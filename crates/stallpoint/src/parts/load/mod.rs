//! Loads on a shaft.

mod conveyor;
mod end_stop;
mod gravity;
mod hoist;
mod hydraulic_pump;
mod quadratic;
mod resisting;
mod transmission;
mod viscous;
mod worm_gear;

pub use conveyor::Conveyor;
pub use end_stop::EndStop;
pub use gravity::GravityTorque;
pub use hoist::Hoist;
pub use hydraulic_pump::HydraulicPump;
pub use quadratic::QuadraticTorque;
pub use resisting::ResistingTorque;
pub use viscous::ViscousTorque;
pub use worm_gear::WormGear;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{Part, Terminal, shaft};
use crate::quantity::Fraction;

/// Local index of the shaft's speed.
const SHAFT: usize = 0;
const TERMINALS: [Terminal; 1] = [shaft("shaft")];
/// Standard gravity, m/s² (3rd CGPM, 1901).
const G: f64 = 9.80665;

/// Defaults of fields.
fn one() -> Fraction {
    Fraction::from_si(1.0)
}
fn yes() -> bool {
    true
}

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
    /// A mass on a rope.
    Hoist(Hoist),
    /// A load behind a gear that cannot be driven back.
    WormGear(WormGear),
    /// A pump that moves a cylinder both ways.
    HydraulicPump(HydraulicPump),
    /// A mass drawn along.
    Conveyor(Conveyor),
    /// Stops at the ends of travel.
    EndStop(EndStop),
}

impl Load {
    /// The load as a part.
    pub fn part(&self) -> &dyn Part {
        match self {
            Self::ResistingTorque(load) => load,
            Self::GravityTorque(load) => load,
            Self::ViscousTorque(load) => load,
            Self::QuadraticTorque(load) => load,
            Self::Hoist(load) => load,
            Self::WormGear(load) => load,
            Self::HydraulicPump(load) => load,
            Self::Conveyor(load) => load,
            Self::EndStop(load) => load,
        }
    }

    /// Torque beyond dry friction that it takes forward and backward once its slack is taken up: a pump has no pressure until
    /// it has turned a little.
    pub(crate) fn working_torque(&self) -> [f64; 2] {
        match self {
            Self::HydraulicPump(pump) => [pump.forward_pressure, pump.reverse_pressure].map(|p| pump.torque_at(p.si())),
            _ => [0.0; 2],
        }
    }

    /// Whether it may move by itself when the drive lets go of it.
    pub fn may_run_away(&self) -> bool {
        match self {
            Self::GravityTorque(_) => true,
            Self::Hoist(load) => load.overhauls(),
            Self::Conveyor(load) => load.overhauls(),
            _ => false,
        }
    }
}
