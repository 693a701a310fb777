//! Reversing contactor: its data, its moving armatures, and the part they make.

mod armature;
mod data;
mod layout;
mod part;

pub use data::{ContactorDuty, RestPosition, ReversingContactor};
