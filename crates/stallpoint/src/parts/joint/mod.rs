//! Joint: its description, a loose one, its film, its heat, the metal contact in it.

mod constriction;
mod film;
mod heat;
mod hot_spot;
mod joint;
mod loose;

pub use constriction::Constriction;
pub use film::Film;
pub use heat::JointHeat;
pub use hot_spot::{LORENZ, hottest_spot_c, spot_voltage};
pub use joint::Joint;
pub use loose::Loose;
