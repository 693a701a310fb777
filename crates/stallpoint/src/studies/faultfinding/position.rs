//! How the drive's control stands while something is measured.

use crate::drive::{Control, Direction, Drive};
use crate::error::Error;

/// What is held while something is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Held {
    /// The control at rest.
    AtRest,
    /// The control held forward.
    Forward,
    /// The control held in reverse.
    Reverse,
    /// The isolator off, the control at rest: for an ohmmeter.
    Isolated,
}

impl Held {
    /// All.
    pub const ALL: [Self; 4] = [Self::AtRest, Self::Forward, Self::Reverse, Self::Isolated];

    /// Its words.
    pub fn name(self) -> &'static str {
        match self {
            Self::AtRest => "at rest",
            Self::Forward => "forward",
            Self::Reverse => "reverse",
            Self::Isolated => "isolated",
        }
    }

    /// The direction called for.
    pub fn direction(self) -> Option<Direction> {
        match self {
            Self::Forward => Some(Direction::Forward),
            Self::Reverse => Some(Direction::Reverse),
            Self::AtRest | Self::Isolated => None,
        }
    }

    /// The control's schedule.
    pub(super) fn control(self) -> Result<Control, Error> {
        match self.direction() {
            Some(direction) => Control::new().call(direction, 0.0, f64::MAX),
            None => Ok(Control::new()),
        }
    }

    /// The drive as it stands then.
    pub(super) fn drive(self, drive: &Drive) -> Drive {
        let mut own = drive.clone();
        if self == Self::Isolated {
            own.isolator.closed = false;
        }
        own
    }
}

impl std::fmt::Display for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(self.name())
    }
}

impl std::str::FromStr for Held {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let allowed = "\"at rest\", \"forward\", \"reverse\" or \"isolated\"";
        let found = Self::ALL.into_iter().find(|held| held.name() == text || text == "rest" && *held == Self::AtRest);
        found.ok_or_else(|| Error::option("control", &format!("\"{text}\""), allowed))
    }
}
