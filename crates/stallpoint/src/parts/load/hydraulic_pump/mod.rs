//! Bidirectional hydraulic pump with relief valve.

mod description;
mod modes;
mod part;

pub use description::HydraulicPump;
