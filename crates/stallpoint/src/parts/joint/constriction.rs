//! The metal contact that a clamping force makes.

use crate::error::Error;
use crate::parts::{above_zero, quantity};
use crate::quantity::{Force, IntoQuantity, Pressure, Resistivity};

/// Constriction of the current in clean metal pressed together: one round spot as large as the force makes it.
///
/// ```text
/// a = √(F / (π H)),    R = ρ / (2 a) = (ρ / 2) √(π H / F)
/// ```
///
/// Limits: clean metal of one kind, fully plastic; the same force on many spots has somewhat less resistance. Not a film, not
/// the lug's own metal.
///
/// Source: R. Holm, Electric Contacts; P. G. Slade, Electrical Contacts.
///
/// # Example
/// ```
/// use stallpoint::parts::{Constriction, Joint};
///
/// let pressed = Constriction::new("2 kN", "550 MPa", 1.75e-8)?;
/// assert!((pressed.resistance() - 8.13e-6).abs() < 1e-8);
/// assert_eq!(Joint::pressed(&pressed)?.resistance.si(), pressed.resistance());
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constriction {
    /// Clamping force, N.
    pub force: Force,
    /// Hardness of the softer metal, Pa.
    pub hardness: Pressure,
    /// Resistivity of the metal, ohm m.
    pub resistivity: Resistivity,
}

impl Constriction {
    /// The contact of a force (N), a hardness (Pa) and a resistivity (ohm m).
    ///
    /// # Errors
    /// A wrong unit, or a value that is not above zero.
    pub fn new(
        force: impl IntoQuantity<Force>,
        hardness: impl IntoQuantity<Pressure>,
        resistivity: impl IntoQuantity<Resistivity>,
    ) -> Result<Self, Error> {
        let force = quantity("force", force)?;
        let (hardness, resistivity) = (quantity("hardness", hardness)?, quantity("resistivity", resistivity)?);
        above_zero("force", force)?;
        above_zero("hardness", hardness)?;
        above_zero("resistivity", resistivity)?;
        Ok(Self { force, hardness, resistivity })
    }

    /// Radius of the spot, m.
    pub fn spot_radius(&self) -> f64 {
        (self.force.si() / (std::f64::consts::PI * self.hardness.si())).sqrt()
    }

    /// Resistance, ohm.
    pub fn resistance(&self) -> f64 {
        self.resistivity.si() / (2.0 * self.spot_radius())
    }
}
