//! Joint: its description, a loose one.

mod joint;
mod loose;

pub use joint::Joint;
pub use loose::Loose;
