//! Reversing contactor: its data, its moving armatures, and the part they make.

mod armature;
mod data;
mod duty_rating;
mod layout;
mod part;

pub use data::{ContactorDuty, RestPosition, ReversingContactor};
pub use duty_rating::DutyRating;
