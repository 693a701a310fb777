//! Simulation of battery-powered, reversing DC motor circuits.

pub mod circuit;
mod error;
pub mod parts;
pub mod quantity;
pub mod tables;

pub use circuit::{Circuit, Event, OperatingPoint, Run, TransientOptions};
pub use error::{Error, PartError, TopologyError};
