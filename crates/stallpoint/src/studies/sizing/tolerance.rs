//! Parameters that are not known to the last digit.

use serde_json::Value;

use super::stream::Stream;
use crate::drive::Drive;
use crate::error::Error;
use crate::studies::sweep::labels::number;
use crate::studies::sweep::paths::get;

/// How a parameter may lie. Values are numbers in SI or texts with a unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Distribution {
    /// Anywhere between two values, evenly.
    Interval {
        /// The lower end.
        low: Value,
        /// The upper end.
        high: Value,
    },
    /// Normally around a mean, cut off at three deviations.
    Normal {
        /// The mean.
        mean: Value,
        /// The standard deviation.
        deviation: Value,
    },
}

/// A parameter, or several that lie alike, with how it may lie.
///
/// # Example
/// ```
/// use stallpoint::studies::sizing::Tolerance;
///
/// let weak = Tolerance::interval("battery.state_of_charge", "50 %", "100 %");
/// let hot = Tolerance::interval("motor.winding_temperature_c", -10.0, 90.0).named("winding temperature");
/// assert_eq!((weak.name.as_str(), hot.keys.len()), ("battery.state_of_charge", 1));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// What it is called.
    pub name: String,
    /// Keys as [`Drive::with_values`] takes them; all take the same value.
    pub keys: Vec<String>,
    /// How it may lie.
    pub distribution: Distribution,
}

impl Tolerance {
    /// Between two values.
    pub fn interval(key: impl Into<String>, low: impl Into<Value>, high: impl Into<Value>) -> Self {
        Self::new(key, Distribution::Interval { low: low.into(), high: high.into() })
    }

    /// Normally around a mean.
    pub fn normal(key: impl Into<String>, mean: impl Into<Value>, deviation: impl Into<Value>) -> Self {
        Self::new(key, Distribution::Normal { mean: mean.into(), deviation: deviation.into() })
    }

    /// One key with a distribution.
    pub fn new(key: impl Into<String>, distribution: Distribution) -> Self {
        let key = key.into();
        Self { name: key.clone(), keys: vec![key], distribution }
    }

    /// With another key that takes the same value.
    #[must_use]
    pub fn and(mut self, key: impl Into<String>) -> Self {
        self.keys.push(key.into());
        self
    }

    /// Under another name.
    #[must_use]
    pub fn named(self, name: impl Into<String>) -> Self {
        Self { name: name.into(), ..self }
    }

    /// In numbers.
    pub(super) fn resolve(&self, drive: &Drive) -> Result<Resolved, Error> {
        let Some(key) = self.keys.first() else {
            return Err(Error::option("tolerance", &self.name, "given at least one key of the drive"));
        };
        let read = |value: &Value| si(drive, key, value);
        let (low, high, spread) = match &self.distribution {
            Distribution::Interval { low, high } => (read(low)?, read(high)?, Spread::Even),
            Distribution::Normal { mean, deviation } => {
                let (mean, deviation) = (read(mean)?, read(deviation)?);
                (mean - CUT * deviation, mean + CUT * deviation, Spread::Normal { mean, deviation })
            }
        };
        if !(low < high) {
            let problem = format!("the tolerance runs from {low} to {high}; give a lower end below the upper");
            return Err(Error::Value { key: key.clone(), problem });
        }
        Ok(Resolved { name: self.name.clone(), keys: self.keys.clone(), low, high, spread })
    }
}

/// Deviations at which a normal distribution is cut off.
const CUT: f64 = 3.0;

/// The number in SI that a key of a drive reads from a value.
pub(super) fn si(drive: &Drive, key: &str, value: &Value) -> Result<f64, Error> {
    let written = drive.with_values([(key, value.clone())])?.to_value()?;
    let read = get(&written, key).and_then(number).map(|(number, _)| number);
    read.ok_or_else(|| Error::Value {
        key: key.into(),
        problem: "is not a number that can vary; give another key".into(),
    })
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Spread {
    Even,
    Normal { mean: f64, deviation: f64 },
}

/// A tolerance in numbers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Resolved {
    pub name: String,
    pub keys: Vec<String>,
    pub low: f64,
    pub high: f64,
    spread: Spread,
}

impl Resolved {
    /// A draw.
    pub fn draw(&self, stream: &mut Stream) -> f64 {
        match self.spread {
            Spread::Even => self.low + (self.high - self.low) * stream.uniform(),
            Spread::Normal { mean, deviation } => loop {
                let value = mean + deviation * stream.normal();
                if (self.low..=self.high).contains(&value) {
                    return value;
                }
            },
        }
    }

    /// Its keys with one value.
    pub fn at(&self, value: f64) -> impl Iterator<Item = (String, Value)> + '_ {
        self.keys.iter().map(move |key| (key.clone(), Value::from(value)))
    }
}
