//! Motors.

mod permanent_magnet;

pub use permanent_magnet::PermanentMagnetMotor;
