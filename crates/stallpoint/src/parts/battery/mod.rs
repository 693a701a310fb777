//! Battery: its description, its faults, its equations.

mod bank;
mod battery;
mod cranking;
mod cut_off;
mod equations;
mod faults;
mod group;
mod peukert;

pub use battery::Battery;
pub use cut_off::CutOff;
pub use faults::{BadString, BatteryFaults};
pub use peukert::Peukert;
