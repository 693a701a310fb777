//! Bidirectional hydraulic pump with relief valve.

mod about;
mod description;
mod modes;
mod part;

pub use description::HydraulicPump;
