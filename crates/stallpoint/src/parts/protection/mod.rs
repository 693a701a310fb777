//! Breakers and fuses: what opens the loop when the current is too large for too long.

mod after_run;
mod breaker;
mod derating;
mod fuse;
mod fuse_running;
mod gate_check;
mod integrals;
mod inverse_time_band;
mod magnetic;
mod miniature;
mod reset;
mod running;
mod thermal_band;
mod trip_band;
mod trip_curve;
mod trip_points;

pub use after_run::Accumulated;
pub use breaker::Breaker;
pub use derating::{Derating, LinearDerating};
pub use fuse::Fuse;
pub use gate_check::{Edge, GateCheck};
pub use inverse_time_band::InverseTimeBand;
pub use magnetic::MagneticTrip;
pub use reset::{HoldingHeater, Reset};
pub use thermal_band::ThermalBand;
pub use trip_band::TripBand;
pub use trip_points::TripPoints;
