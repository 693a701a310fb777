//! Standards' data, each table with its source.
//!
//! The numbers stand in readable files under `data/`; one loader reads them and refuses a table without a source.
//! [`all`] lists what there is and how well it is known.

mod catalogue;
mod error;
mod loader;
mod piecewise;

pub mod adiabatic;
pub mod ampacity;
pub mod awg;
pub mod conductors;
mod cranking;
pub mod inverse_time;
mod open_circuit;
pub mod trip_gates;

#[cfg(test)]
mod tests;

pub use catalogue::all;
pub use cranking::{CrankingLimit, CrankingTest};
pub use error::TableError;
pub use loader::{Status, Table};
pub use open_circuit::{Chemistry, OpenCircuitVoltage, freezing_point_c, open_circuit_voltage};
pub use piecewise::PiecewiseLinear;
