//! What is known about a kind of quantity: its name, unit, example and dimension.

use super::unit::Unit;

/// One kind of quantity, e.g. resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Kind {
    pub name: &'static str,
    pub unit: &'static str,
    pub example: &'static str,
    /// Exponents of m, kg, s, A, K.
    pub dims: [i8; 5],
    /// Exponent of the radian in `unit`.
    pub angle: i8,
    /// Whether the radian must be written. It must where leaving it out would confuse hertz with rad/s.
    pub angle_needed: bool,
    /// Whether the scale's zero counts (temperatures, not temperature differences).
    pub absolute: bool,
}

impl Kind {
    /// Whether a value given in `unit` is of this kind.
    pub fn takes(&self, unit: &Unit) -> bool {
        let angle_fits = unit.angle == self.angle || (!self.angle_needed && unit.angle == 0);
        unit.dims == self.dims && angle_fits && (!self.absolute || unit.zero.is_some())
    }
}

/// `name` with its article: "a voltage", "an inductance".
pub(super) fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// The flags of most kinds, for the list to fill in the rest.
pub(super) const PLAIN: Kind =
    Kind { name: "", unit: "", example: "", dims: [0; 5], angle: 0, angle_needed: false, absolute: false };
