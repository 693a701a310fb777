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
