//! What the operator's switch does over time.

use crate::error::Error;
use crate::quantity::{IntoQuantity, Time};

/// A direction of the drive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Coil A.
    Forward,
    /// Coil B.
    Reverse,
}

impl Direction {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Forward, Self::Reverse];

    /// The other one.
    pub fn opposite(self) -> Self {
        match self {
            Self::Forward => Self::Reverse,
            Self::Reverse => Self::Forward,
        }
    }

    /// +1 forward, -1 reverse: the sign of the motor's speed.
    pub fn sign(self) -> f64 {
        match self {
            Self::Forward => 1.0,
            Self::Reverse => -1.0,
        }
    }

    /// The letter of its coil, contact set and signal wire.
    pub fn letter(self) -> &'static str {
        match self {
            Self::Forward => "a",
            Self::Reverse => "b",
        }
    }
}

impl std::fmt::Display for Direction {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::Forward => "forward",
            Self::Reverse => "reverse",
        })
    }
}

impl std::str::FromStr for Direction {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        match text {
            "forward" => Ok(Self::Forward),
            "reverse" => Ok(Self::Reverse),
            _ => Err(Error::option("direction", &format!("\"{text}\""), "\"forward\" or \"reverse\"")),
        }
    }
}

/// When the control switch calls for which direction. Times are absolute; nothing is called for outside them.
///
/// # Example
/// ```
/// use stallpoint::drive::Control;
///
/// let jog = Control::new().forward("0 s", "1.2 s")?.reverse("1.25 s", "2.5 s")?;
/// assert_eq!(jog.last_time(), 2.5);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Control {
    spans: Vec<(Direction, f64, f64)>,
}

impl Control {
    /// At rest for all time.
    pub fn new() -> Self {
        Self::default()
    }

    /// Calls for forward between two times, s.
    ///
    /// # Errors
    /// A wrong unit; an end that is not later than its start; a start that is negative or before the last span of the same
    /// direction ends.
    pub fn forward(self, from: impl IntoQuantity<Time>, to: impl IntoQuantity<Time>) -> Result<Self, Error> {
        self.call(Direction::Forward, from, to)
    }

    /// Calls for reverse between two times, s.
    ///
    /// # Errors
    /// As for [`forward`](Control::forward).
    pub fn reverse(self, from: impl IntoQuantity<Time>, to: impl IntoQuantity<Time>) -> Result<Self, Error> {
        self.call(Direction::Reverse, from, to)
    }

    /// Calls for a direction between two times, s.
    ///
    /// # Errors
    /// As for [`forward`](Control::forward).
    pub fn call(
        mut self,
        direction: Direction,
        from: impl IntoQuantity<Time>,
        to: impl IntoQuantity<Time>,
    ) -> Result<Self, Error> {
        let (from, to) = (crate::parts::quantity("from", from)?.si(), crate::parts::quantity("to", to)?.si());
        let busy_until = self.spans(direction).last().map_or(0.0, |&(_, end)| end);
        if !(from >= busy_until) {
            let allowed = format!("at least {busy_until} s, when the last {direction} call ends");
            return Err(Error::option("from", &format!("{from} s"), &allowed));
        }
        if !(to > from) {
            return Err(Error::option("to", &format!("{to} s"), &format!("later than its start at {from} s")));
        }
        self.spans.push((direction, from, to));
        Ok(self)
    }

    /// Spans in which a direction is called for, (from, to) in s.
    pub fn spans(&self, direction: Direction) -> Vec<(f64, f64)> {
        self.spans.iter().filter(|span| span.0 == direction).map(|span| (span.1, span.2)).collect()
    }

    /// The last time at which anything is called for, s.
    pub fn last_time(&self) -> f64 {
        self.spans.iter().map(|span| span.2).fold(0.0, f64::max)
    }
}
