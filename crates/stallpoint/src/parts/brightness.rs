//! How bright a lamp looks, in a word.

/// A lamp's brightness in a word.
///
/// *Dark*: the filament is below 798 K, where a body begins to glow to the eye (J. W. Draper, Phil. Mag. 30 (1847) 345).
/// *Glow*: under 5 % of its rated light; *dim*: under 50 %; *bright*: from there (both shares typical, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Brightness {
    /// No light.
    Dark,
    /// The filament is red.
    Glow,
    /// Clearly less than it should be.
    Dim,
    /// As it should be.
    Bright,
}

/// Temperature at which a body begins to glow, °C.
const DRAPER: f64 = 798.0 - 273.15;

impl Brightness {
    /// The word for a filament's temperature (°C) and share of the rated light.
    pub fn of(temperature_c: f64, light: f64) -> Self {
        if !(temperature_c >= DRAPER) {
            Self::Dark
        } else if light < 0.05 {
            Self::Glow
        } else if light < 0.5 {
            Self::Dim
        } else {
            Self::Bright
        }
    }
}

impl std::fmt::Display for Brightness {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::Dark => "dark",
            Self::Glow => "glow",
            Self::Dim => "dim",
            Self::Bright => "bright",
        })
    }
}
