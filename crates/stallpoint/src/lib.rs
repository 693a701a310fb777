//! Simulation of battery-powered, reversing DC motor circuits.

pub mod circuit;
pub mod drive;
mod error;
pub mod instruments;
mod linear;
pub mod parts;
pub mod quantity;
pub mod report;
pub mod studies;
pub mod tables;

pub use circuit::{Circuit, Event, OperatingPoint, Run, TransientOptions};
pub use drive::Drive;
pub use error::{Error, PartError, TopologyError};
pub use stallpoint_solve::SolveError;
