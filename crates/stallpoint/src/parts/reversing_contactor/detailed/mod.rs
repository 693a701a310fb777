//! The reversing contactor in detailed fidelity: armatures that move by their forces, blades that bounce.

mod description;
mod layout;
mod mechanics;
mod motion;
mod running;

pub use description::MovingArmature;
pub(super) use running::Detailed;
