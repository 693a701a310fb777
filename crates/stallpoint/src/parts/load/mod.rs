//! Loads on a shaft.

mod about;
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

pub(crate) use about::AboutLoad;
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

use super::list::{Listed, read};
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

/// The loads that a description can name: how each is made, and an example of the least that it needs.
pub(super) const LOADS: &[Listed] = &[
    (
        "Conveyor",
        read::<Conveyor>,
        r#"{ "mass": "600 kg", "drum_radius": "50 mm", "gear_ratio": 25, "efficiency": 0.8, "friction_coefficient": 0.25 }"#,
    ),
    ("EndStop", read::<EndStop>, r#"{ "forward": "90 rad" }"#),
    ("GravityTorque", read::<GravityTorque>, r#"{ "torque": "1 N m" }"#),
    ("Hoist", read::<Hoist>, r#"{ "mass": "500 kg", "drum_radius": "50 mm", "gear_ratio": 50, "efficiency": 0.8 }"#),
    (
        "HydraulicPump",
        read::<HydraulicPump>,
        r#"{ "displacement_per_turn": "4 cm3", "relief_pressure": "140 bar", "forward_pressure": "100 bar", "reverse_pressure": "45 bar" }"#,
    ),
    ("QuadraticTorque", read::<QuadraticTorque>, r#"{ "coefficient": "1e-5 N m s2/rad2" }"#),
    ("ResistingTorque", read::<ResistingTorque>, r#"{ "running": "2.5 N m", "breakaway": "3.1 N m" }"#),
    ("ViscousTorque", read::<ViscousTorque>, r#"{ "coefficient": "1 mN m s/rad" }"#),
    ("WormGear", read::<WormGear>, r#"{ "ratio": 40, "efficiency": 0.4 }"#),
];

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
    /// What it says of itself.
    pub(crate) fn about(&self) -> &dyn AboutLoad {
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

    /// The load as a part.
    pub fn part(&self) -> &dyn Part {
        self.about()
    }

    /// Whether it may move by itself when the drive lets go of it.
    pub fn may_run_away(&self) -> bool {
        self.about().may_run_away()
    }
}
