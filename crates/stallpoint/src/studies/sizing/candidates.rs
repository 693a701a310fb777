//! What can be chosen: lists and catalogues.

use serde_json::Value;

use crate::drive::Drive;
use crate::error::Error;

/// One row of a catalogue: what it sets in the drive, what it costs, what it weighs.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// Keys as [`Drive::with_values`] takes them, and their values.
    pub values: Vec<(String, Value)>,
    /// Price, in any one currency; for a cable of this length.
    pub price: Option<f64>,
    /// Mass, kg; of what a choice adds besides the conductors, which are reckoned.
    pub mass: Option<f64>,
}

impl Row {
    /// A row that sets values.
    pub fn new<K: Into<String>, V: Into<Value>>(
        name: impl Into<String>,
        values: impl IntoIterator<Item = (K, V)>,
    ) -> Self {
        let values = values.into_iter().map(|(key, value)| (key.into(), value.into())).collect();
        Self { name: name.into(), values, price: None, mass: None }
    }

    /// With a price.
    #[must_use]
    pub fn price(self, price: f64) -> Self {
        Self { price: Some(price), ..self }
    }

    /// With a mass, kg.
    #[must_use]
    pub fn mass(self, mass: f64) -> Self {
        Self { mass: Some(mass), ..self }
    }
}

/// One choice to be made: a list of values of one key, or a catalogue.
///
/// # Example
/// ```
/// use stallpoint::studies::sizing::{Choice, Row};
///
/// let breakers = Choice::list("breaker.rated_current", ["60 A", "80 A"]);
/// let cables = Choice::catalogue("cable", [
///     Row::new("16", [("supply_cable.cross_section", "16 mm2"), ("supply_cable.ampacity", "85 A")]).price(60.0),
///     Row::new("25", [("supply_cable.cross_section", "25 mm2"), ("supply_cable.ampacity", "112 A")]).price(95.0),
/// ]);
/// assert_eq!((breakers.rows.len(), cables.rows[1].price), (2, Some(95.0)));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What is chosen.
    pub name: String,
    /// What there is.
    pub rows: Vec<Row>,
}

impl Choice {
    /// A list of values of one key.
    pub fn list<V: Into<Value>>(key: impl Into<String>, values: impl IntoIterator<Item = V>) -> Self {
        let key = key.into();
        let row = |value: Value| {
            let name = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
            Row::new(name, [(key.clone(), value)])
        };
        Self { rows: values.into_iter().map(|value| row(value.into())).collect(), name: key }
    }

    /// A list of values that several keys take together.
    pub fn together<V: Into<Value>>(keys: &[&str], values: impl IntoIterator<Item = V>) -> Self {
        let list = Self::list(keys.join(", "), values);
        let rows = list.rows.into_iter().map(|row| {
            let value = row.values.into_iter().next().map_or(Value::Null, |(_, value)| value);
            Row::new(row.name, keys.iter().map(|key| (*key, value.clone())))
        });
        Self { name: list.name, rows: rows.collect() }
    }

    /// A catalogue.
    pub fn catalogue(name: impl Into<String>, rows: impl IntoIterator<Item = Row>) -> Self {
        Self { name: name.into(), rows: rows.into_iter().collect() }
    }
}

/// Refuses choices that cannot be made, each row tried on its own.
pub(super) fn check(drive: &Drive, choices: &[Choice]) -> Result<(), Error> {
    if choices.is_empty() {
        return Err(Error::option("candidates", "empty", "at least one key with its values, or a catalogue"));
    }
    for choice in choices {
        if choice.rows.is_empty() {
            return Err(Error::Value {
                key: choice.name.clone(),
                problem: "nothing to choose from; give at least one".into(),
            });
        }
        for row in &choice.rows {
            let numbers = [("price", row.price), ("mass", row.mass)];
            for (what, number) in numbers {
                if number.is_some_and(|number| !(number >= 0.0 && number.is_finite())) {
                    let problem =
                        format!("{what} {number:?} is not a number from 0 up", number = number.unwrap_or(f64::NAN));
                    return Err(Error::Value { key: format!("{}: {}", choice.name, row.name), problem });
                }
            }
            // A value that reads but that its part refuses rejects its candidates only.
            match drive.with_values(row.values.iter().map(|(key, value)| (key.as_str(), value.clone()))) {
                Err(error @ Error::Value { .. }) => return Err(error),
                _ => continue,
            }
        }
    }
    let total = choices.iter().try_fold(1usize, |product, choice| product.checked_mul(choice.rows.len()));
    total.map(|_| ()).ok_or_else(|| Error::option("candidates", "more combinations than can be counted", "fewer"))
}

/// The rows of a combination by its number, the first choice slowest.
pub(super) fn combination(choices: &[Choice], number: usize) -> Vec<&Row> {
    let mut rest = number;
    let mut rows: Vec<&Row> = Vec::with_capacity(choices.len());
    for choice in choices.iter().rev() {
        rows.push(&choice.rows[rest % choice.rows.len()]);
        rest /= choice.rows.len();
    }
    rows.reverse();
    rows
}
