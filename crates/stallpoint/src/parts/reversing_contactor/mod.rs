//! Reversing contactor: its data, its moving armatures, and the part they make.

mod armature;
mod data;
mod faults;
mod layout;
mod part;

pub use data::{ContactorDuty, RestPosition, ReversingContactor};
pub use faults::{ArmatureFault, ContactFault, ContactorFaults};
