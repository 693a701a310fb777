//! What can be measured: two probes or a clamp, an instrument, a position of the control.

use super::position::Held;
use crate::error::Error;

/// An instrument, or the technician's own eyes and ears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tool {
    /// Voltmeter of 10 Mohm.
    Voltmeter,
    /// Voltmeter with its low-impedance input.
    LowImpedance,
    /// Test lamp for the drive's voltage, 21 W.
    TestLamp,
    /// Ohmmeter; only on the isolated drive.
    Ohmmeter,
    /// Clamp ammeter, settled.
    Clamp,
    /// Whether the contactor clicks when the control is moved.
    Listen,
    /// Whether and which way the motor turns, and whether much slower than this drive does when it is good.
    WatchMotor,
    /// Whether the breaker opens within 20 s of holding the control.
    WatchBreaker,
}

impl Tool {
    /// All.
    pub const ALL: [Self; 8] = [
        Self::Voltmeter,
        Self::LowImpedance,
        Self::TestLamp,
        Self::Ohmmeter,
        Self::Clamp,
        Self::Listen,
        Self::WatchMotor,
        Self::WatchBreaker,
    ];

    /// Its words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Voltmeter => "voltmeter",
            Self::LowImpedance => "low-impedance voltmeter",
            Self::TestLamp => "test lamp",
            Self::Ohmmeter => "ohmmeter",
            Self::Clamp => "clamp ammeter",
            Self::Listen => "listen",
            Self::WatchMotor => "watch the motor",
            Self::WatchBreaker => "watch the breaker",
        }
    }

    /// Unit of its readings; empty for words.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Voltmeter | Self::LowImpedance => "V",
            Self::Ohmmeter => "ohm",
            Self::Clamp => "A",
            _ => "",
        }
    }

    /// The words it answers with; none for numbers.
    pub fn words(self) -> &'static [&'static str] {
        match self {
            Self::TestLamp => &["dark", "glow", "dim", "bright"],
            Self::Listen => &["silent", "clicks", "chatters"],
            Self::WatchMotor => &["reverse", "slow reverse", "stands", "slow forward", "forward"],
            Self::WatchBreaker => &["holds", "trips"],
            _ => &[],
        }
    }

    /// Number of probes: two, one clamp, none.
    pub(super) fn probes(self) -> usize {
        match self {
            Self::Voltmeter | Self::LowImpedance | Self::TestLamp | Self::Ohmmeter => 2,
            Self::Clamp => 1,
            _ => 0,
        }
    }
}

impl Tool {
    /// The smallest step of its display near a value in its unit (4,000 counts, a clamp's 0.1 A and an ohmmeter's 0.1 ohm at
    /// best: typical, no source); 0 for words.
    pub fn resolution(self, value: f64) -> f64 {
        let finest: f64 = match self {
            Self::Voltmeter | Self::LowImpedance => 1e-4,
            Self::Clamp | Self::Ohmmeter => 0.1,
            _ => return 0.0,
        };
        let mut step = finest;
        while value.is_finite() && value.abs() > COUNTS * step {
            step *= 10.0;
        }
        step
    }

    /// A number as its display shows it.
    pub(super) fn displayed(self, value: f64) -> f64 {
        let step = self.resolution(value);
        if step > 0.0 && value.is_finite() {
            // Whole tenths of a power of ten, written without what binary fractions add; no negative zero.
            let per_unit = (1.0 / step).round();
            let counts = (value / step).round();
            (if step >= 1.0 { counts * step } else { counts / per_unit }) + 0.0
        } else {
            value
        }
    }

    /// A reading with its unit, in words.
    pub(super) fn words_of(self, observed: &Observed) -> String {
        match observed {
            Observed::Number(value) => crate::report::quantity(*value, self.unit()),
            Observed::Word(word) => word.clone(),
        }
    }

    /// A half width on the scale of comparison about a reading, in the tool's unit; not finer than it shows.
    pub(super) fn tolerance(self, about: &Observed, half: f64) -> f64 {
        let Observed::Number(value) = about else { return half };
        let half = if self == Self::Ohmmeter { half * (value + 0.1) } else { half };
        half.max(self.resolution(half))
    }
}

/// Steps of a display in one range.
const COUNTS: f64 = 4000.0;

impl std::fmt::Display for Tool {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(self.name())
    }
}

impl std::str::FromStr for Tool {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let known: Vec<&str> = Self::ALL.iter().map(|tool| tool.name()).collect();
        let found = Self::ALL.into_iter().find(|tool| tool.name() == text);
        found
            .ok_or_else(|| Error::option("instrument", &format!("\"{text}\""), &format!("one of {}", known.join(", "))))
    }
}

/// One thing to measure.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Measurement {
    /// The instrument.
    pub tool: Tool,
    /// What is held meanwhile.
    pub held: Held,
    /// First probe, or the conductor in the clamp; empty for eyes and ears.
    pub plus: String,
    /// Second probe; empty when there is none.
    pub minus: String,
}

impl Measurement {
    /// With two probes.
    pub fn between(tool: Tool, held: Held, plus: &str, minus: &str) -> Self {
        Self { tool, held, plus: plus.into(), minus: minus.into() }
    }

    /// Without a probe.
    pub fn look(tool: Tool, held: Held) -> Self {
        Self::between(tool, held, "", "")
    }
}

impl std::fmt::Display for Measurement {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        let held = match self.held {
            Held::AtRest => "control at rest".to_string(),
            Held::Isolated => "isolated".to_string(),
            direction => format!("control {direction}"),
        };
        let place = |name: &str| name.replace('_', " ");
        match self.tool.probes() {
            2 => write!(f, "{}, {} to {}, {held}", self.tool, place(&self.plus), place(&self.minus)),
            1 => write!(f, "{} round the {}, {held}", self.tool, place(&self.plus)),
            _ => write!(f, "{}, {held}", self.tool),
        }
    }
}

/// A reading: a number in the tool's unit, an ohmmeter's "open" or "live", or a word.
#[derive(Debug, Clone, PartialEq)]
pub enum Observed {
    /// A number in the tool's unit.
    Number(f64),
    /// A word of the tool's.
    Word(String),
}

impl std::fmt::Display for Observed {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Self::Number(value) => write!(f, "{}", crate::report::number(*value)),
            Self::Word(word) => f.pad(word),
        }
    }
}

/// Beyond this an ohmmeter shows "open", ohm; it refuses above this voltage (as [`Ohmmeter`](crate::instruments::Ohmmeter)).
pub(super) const OPEN: f64 = 40e6;
pub(super) const LIVE: f64 = 0.05;
/// Values that stand for an ohmmeter's words on its own scale.
const OPEN_VALUE: f64 = 20.0;
const LIVE_VALUE: f64 = 30.0;

/// An ohmmeter's reading as it is compared: logarithmic, so that a tenth of an ohm and a megohm both count.
pub(super) fn ohm_scale(ohms: f64) -> f64 {
    if ohms.is_nan() {
        LIVE_VALUE
    } else if ohms >= OPEN {
        OPEN_VALUE
    } else {
        (ohms.max(0.0) + 0.1).ln()
    }
}

impl Tool {
    /// A reading as a number to compare: itself, the code of a word, ohms on their own scale.
    pub(super) fn code(self, observed: &Observed) -> Result<f64, Error> {
        let bad = |given: &str, allowed: &str| Error::option("reading", given, allowed);
        let words = self.words();
        match observed {
            Observed::Number(value) if words.is_empty() => {
                if self == Self::Ohmmeter {
                    let allowed = "0 ohm or more, \"open\" or \"live\"";
                    return if *value >= 0.0 { Ok(ohm_scale(*value)) } else { Err(bad(&value.to_string(), allowed)) };
                }
                if !value.is_finite() {
                    return Err(bad(&value.to_string(), &format!("a finite number of {}", self.unit())));
                }
                Ok(*value)
            }
            Observed::Word(word) if self == Self::Ohmmeter && word == "open" => Ok(OPEN_VALUE),
            Observed::Word(word) if self == Self::Ohmmeter && word == "live" => Ok(LIVE_VALUE),
            Observed::Word(word) => {
                let found = words.iter().position(|known| known == word);
                let allowed = if words.is_empty() {
                    format!("a number of {}", self.unit())
                } else {
                    format!("one of {}", words.join(", "))
                };
                found.map(|code| code as f64).ok_or_else(|| bad(&format!("\"{word}\""), &allowed))
            }
            Observed::Number(value) => Err(bad(&value.to_string(), &format!("one of {}", words.join(", ")))),
        }
    }

    /// The reading that a number to compare stands for.
    pub(super) fn observed(self, code: f64) -> Observed {
        let words = self.words();
        if words.is_empty() {
            return match self {
                Self::Ohmmeter if code >= LIVE_VALUE - 1.0 => Observed::Word("live".into()),
                Self::Ohmmeter if code >= OPEN_VALUE - 1.0 => Observed::Word("open".into()),
                Self::Ohmmeter => Observed::Number(self.displayed((code.exp() - 0.1).max(0.0))),
                _ => Observed::Number(self.displayed(code)),
            };
        }
        let code = (code.round().max(0.0) as usize).min(words.len() - 1);
        Observed::Word(words[code].into())
    }

    /// Accuracy of a reading as it is compared, one deviation (typical, no source): a multimeter of 0.5 % and a few digits,
    /// probes that never sit twice alike, a clamp of 2 % and half an ampere.
    pub(super) fn deviation(self, code: f64) -> f64 {
        match self {
            Self::Voltmeter | Self::LowImpedance => {
                // A good technician takes the lower range for small readings.
                let digits = if code.abs() < 0.4 { 0.5e-3 } else { 10e-3 };
                0.5 * (0.005 * code.abs() + digits)
            }
            Self::Clamp => 0.5 * (0.02 * code.abs() + 0.5),
            Self::Ohmmeter => 0.05,
            _ => 0.0,
        }
    }
}
