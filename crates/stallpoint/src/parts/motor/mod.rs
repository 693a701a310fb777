//! Motors.

mod armature;
mod armature_equations;
mod compound;
mod data_sheet;
mod faults;
mod field;
mod kinds;
mod least_squares;
mod magnetisation;
mod monotone;
mod permanent_magnet;
mod poles;
mod rotor;
mod series;
mod shunt;
mod swap;
mod variation;
mod wound;

pub(crate) use armature::COPPER;
pub use armature::{Armature, MotorCase};
pub use compound::{CompoundMotor, SeriesWinding};
pub use data_sheet::{DataSheet, FittedMotor, Misfit, MotorConstants, RatedPoint};
pub use faults::{ArmatureFaults, DeadSpot};
pub use field::Field;
pub(crate) use kinds::FieldPlace;
pub use kinds::Motor;
pub use magnetisation::Magnetisation;
pub use permanent_magnet::PermanentMagnetMotor;
pub use rotor::Rotor;
pub use series::SeriesMotor;
pub use shunt::ShuntMotor;
pub use swap::Swap;
pub use variation::ResistanceVariation;

use super::list::{Listed, read};

/// The motors that a description can name: how each is made, and an example of the least that it needs.
pub(super) const MOTORS: &[Listed] = &[
    (
        "CompoundMotor",
        read::<CompoundMotor>,
        r#"{ "armature": { "resistance": "30 mohm", "inductance": "0.1 mH" }, "shunt": { "resistance": "20 mohm", "inductance": "1 mH", "magnetisation": { "kind": "linear", "mutual_inductance": 0.02 } }, "series": { "resistance": "10 mohm", "turns_ratio": 0.003 }, "rotor": { "inertia": "0.01 kg m2" } }"#,
    ),
    (
        "PermanentMagnetMotor",
        read::<PermanentMagnetMotor>,
        r#"{ "resistance": "30 mohm", "inductance": "0.1 mH", "torque_constant": "0.05 N m/A", "inertia": "0.004 kg m2" }"#,
    ),
    (
        "SeriesMotor",
        read::<SeriesMotor>,
        r#"{ "armature": { "resistance": "30 mohm", "inductance": "0.1 mH" }, "field": { "resistance": "20 mohm", "inductance": "1 mH", "magnetisation": { "kind": "linear", "mutual_inductance": 0.02 } }, "rotor": { "inertia": "0.01 kg m2" } }"#,
    ),
    (
        "ShuntMotor",
        read::<ShuntMotor>,
        r#"{ "armature": { "resistance": "30 mohm", "inductance": "0.1 mH" }, "field": { "resistance": "20 mohm", "inductance": "1 mH", "magnetisation": { "kind": "linear", "mutual_inductance": 0.02 } }, "rotor": { "inertia": "0.01 kg m2" } }"#,
    ),
];
