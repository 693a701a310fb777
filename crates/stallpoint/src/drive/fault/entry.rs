//! One line of the catalogue, for one drive.

use serde::Deserialize;
use serde_json::Value;

use super::section::Section;
use crate::drive::control::Direction;
use crate::drive::description::Drive;
use crate::drive::file::{at, set};
use crate::error::Error;

/// How amounts between mild and severe are spaced.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// Evenly.
    #[default]
    Even,
    /// Evenly in their logarithm.
    Log,
}

/// How bad a fault may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// Unit: "ohm", "degC", "1" for a share or a factor.
    pub unit: String,
    /// The least that counts.
    pub mild: f64,
    /// The worst.
    pub severe: f64,
    /// How amounts between are spaced.
    pub scale: Scale,
    /// The amount when none is given.
    pub typical: f64,
}

impl Amount {
    /// The amount at a severity, 0 mild to 1 severe.
    pub fn at(&self, severity: f64) -> f64 {
        match self.scale {
            Scale::Even => self.mild + (self.severe - self.mild) * severity,
            Scale::Log => self.mild * (self.severe / self.mild).powf(severity),
        }
    }
}

/// A fault that a drive may have.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The part.
    pub part: String,
    /// How it fails.
    pub mode: String,
    /// What it is, for people.
    pub words: String,
    /// Where it sits.
    pub section: Section,
    /// How bad it may be; none where there is only one way.
    pub amount: Option<Amount>,
    /// Its share of all faults before anything is measured (common practice, no source).
    pub prior: f64,
    /// What is dangerous about it, where it is more than a bad drive.
    pub hazard: Option<String>,
    /// Whether steady readings can show it; the finder leaves out what comes and goes.
    pub steady: bool,
    pub(super) set: Vec<(String, Value)>,
    pub(super) times: Vec<(String, Value)>,
}

impl Entry {
    /// Name of the fault: part and mode.
    pub fn name(&self) -> String {
        format!("{} {}", self.part, self.mode)
    }

    /// Part and mode.
    pub fn names(&self) -> (&str, &str) {
        (&self.part, &self.mode)
    }

    /// Its typical amount.
    pub fn typical(&self) -> Option<f64> {
        self.amount.as_ref().map(|amount| amount.typical)
    }

    /// The fault at a severity, 0 mild to 1 severe.
    pub fn at(&self, severity: f64) -> super::Fault {
        let amount = self.amount.as_ref().map(|amount| amount.at(severity));
        super::Fault { part: self.part.clone(), mode: self.mode.clone(), amount }
    }

    /// Puts the fault into a drive's description; `drive` is the same drive as a value.
    pub(crate) fn apply(&self, drive: &Drive, description: &mut Value, amount: Option<f64>) -> Result<(), Error> {
        if let (Some(given), None) = (amount, &self.amount) {
            let allowed = format!("left out: \"{}\" has only one severity", self.name());
            return Err(Error::option("amount", &given.to_string(), &allowed));
        }
        let amount = amount.or(self.typical()).unwrap_or(1.0);
        if !amount.is_finite() {
            return Err(Error::option("amount", &amount.to_string(), "a finite number"));
        }
        for (key, value) in &self.set {
            set(description, key, filled(drive, value, amount))?;
        }
        for (key, factor) in &self.times {
            let factor = filled(drive, factor, amount).as_f64().unwrap_or(1.0);
            if let Some(present) = at(description, key).and_then(number) {
                set(description, key, Value::from(present * factor))?;
            }
        }
        Ok(())
    }
}

/// A value of the catalogue with the amount put in.
fn filled(drive: &Drive, value: &Value, amount: f64) -> Value {
    match value {
        Value::String(text) => formula(drive, text, amount).map_or_else(|| value.clone(), Value::from),
        Value::Object(table) => table.iter().map(|(key, value)| (key.clone(), filled(drive, value, amount))).collect(),
        other => other.clone(),
    }
}

/// "amount", or a product of it, a number and the drive's breakaway torque.
fn formula(drive: &Drive, text: &str, amount: f64) -> Option<f64> {
    let breakaway = || Direction::BOTH.map(|way| drive.breakaway(way)).into_iter().fold(0.0, f64::max).max(0.1);
    text.split('*').try_fold(1.0, |product, factor| {
        Some(
            product
                * match factor.trim() {
                    "amount" => amount,
                    "breakaway" => breakaway(),
                    number => number.parse().ok()?,
                },
        )
    })
}

/// The number of a description's value, in SI: descriptions are written in SI units.
pub(crate) fn number(value: &Value) -> Option<f64> {
    match value {
        Value::String(text) => text.split(' ').next()?.parse().ok(),
        other => other.as_f64(),
    }
}
