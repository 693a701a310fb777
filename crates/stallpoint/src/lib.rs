//! Simulation of battery-powered, reversing DC motor circuits.

pub mod quantity;
pub mod tables;
