//! Battery: its description, its faults, its equations.

mod bank;
mod battery;
mod cranking;
mod cut_off;
mod discharge_fit;
mod equations;
mod faults;
mod group;
mod peukert;

pub use battery::Battery;
pub use cut_off::CutOff;
pub use discharge_fit::{DischargeMisfit, DischargePoint, FittedBattery};
pub use faults::{BadString, BatteryFaults};
pub use peukert::Peukert;
