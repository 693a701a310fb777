//! Sections of a drive, in the order in which common practice checks them.

use serde::Deserialize;

/// Where a fault sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Section {
    /// Battery to supply stud.
    Supply,
    /// Ground stud to battery negative, and the case.
    Ground,
    /// Control supply, switch, signal wires, coil return.
    Signals,
    /// The reversing contactor.
    Contactor,
    /// Motor leads and motor.
    Motor,
    /// What the motor drives.
    Load,
}

impl Section {
    /// All, in the order of the checks.
    pub const ALL: [Self; 6] = [Self::Supply, Self::Ground, Self::Signals, Self::Contactor, Self::Motor, Self::Load];

    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Self::Supply => "supply",
            Self::Ground => "ground",
            Self::Signals => "signals",
            Self::Contactor => "contactor",
            Self::Motor => "motor",
            Self::Load => "load",
        }
    }

    /// The section of a joint or conductor of the loop.
    pub(super) fn of(part: &str) -> Self {
        let starts = |words: &[&str]| words.iter().any(|word| part.starts_with(word));
        if starts(&["ground", "battery_negative", "case"]) {
            Self::Ground
        } else if starts(&["motor"]) {
            Self::Motor
        } else {
            Self::Supply
        }
    }
}

impl std::fmt::Display for Section {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(self.name())
    }
}
