//! What an instrument shows.

use crate::parts::Brightness;

/// A word beside the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// How bright a lamp is.
    Brightness(Brightness),
    /// Beyond the ohmmeter's range.
    Open,
}

impl std::fmt::Display for Word {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Self::Brightness(brightness) => brightness.fmt(f),
            Self::Open => f.pad("open"),
        }
    }
}

/// What an instrument shows: a voltmeter volts, a clamp amperes, an ohmmeter ohms (infinite and "open" beyond its range), a
/// lamp the watts it takes and how bright it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// The word beside it.
    pub word: Option<Word>,
}

impl std::fmt::Display for Reading {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self.word {
            Some(Word::Open) => write!(f, "open"),
            Some(word) => write!(f, "{} {}, {word}", crate::report::number(self.value), self.unit),
            None => write!(f, "{} {}", crate::report::number(self.value), self.unit),
        }
    }
}
