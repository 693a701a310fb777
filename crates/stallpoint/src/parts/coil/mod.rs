//! Coil: its data, its faults, its winding as equations, and the part alone.

mod data;
mod faults;
mod part;
mod winding;

pub use data::Coil;
pub use faults::{CoilFaults, SuppressorFault};
pub(crate) use winding::{FluxCurrent, Leads, Position, Winding};
