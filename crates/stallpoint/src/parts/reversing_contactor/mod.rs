//! Reversing contactor: its data, its moving armatures, and the part they make.

mod armature;
mod data;
mod detailed;
mod duty_rating;
mod faults;
mod layout;
mod part;

pub use data::{ContactorDuty, RestPosition, ReversingContactor};
pub use detailed::MovingArmature;
pub use duty_rating::DutyRating;
pub use faults::{ArmatureFault, ContactFault, ContactorFaults};
