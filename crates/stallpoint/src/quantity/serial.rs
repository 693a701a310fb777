//! Files and schemas: what all quantities share.

use super::into_quantity::Quantity;
use schemars::{Schema, json_schema};
use serde::de::{Error, Visitor};
use serde::{Deserializer, Serializer};
use std::fmt;
use std::marker::PhantomData;

struct NumberOrText<Q>(PhantomData<Q>);

impl<Q: Quantity> Visitor<'_> for NumberOrText<Q> {
    type Value = Q;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = if Q::UNIT.is_empty() { String::new() } else { format!(" in {}", Q::UNIT) };
        write!(f, "a {} as a number{unit} or a text such as \"{}\"", Q::NAME, Q::EXAMPLE)
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Q, E> {
        Q::try_from_si(value).map_err(E::custom)
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Q, E> {
        self.visit_f64(value as f64)
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Q, E> {
        self.visit_f64(value as f64)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Q, E> {
        text.parse().map_err(E::custom)
    }
}

pub(super) fn read<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<Q, D::Error> {
    deserializer.deserialize_any(NumberOrText(PhantomData))
}

/// Writes the text form, or a bare number where there is no unit.
pub(super) fn write<Q: Quantity, S: Serializer>(quantity: &Q, si: f64, serializer: S) -> Result<S::Ok, S::Error> {
    if Q::UNIT.is_empty() { serializer.serialize_f64(si) } else { serializer.collect_str(quantity) }
}

pub(super) fn schema<Q: Quantity>() -> Schema {
    let unit = if Q::UNIT.is_empty() { "without a unit".to_owned() } else { format!("in {}", Q::UNIT) };
    json_schema!({
        "description": format!("{}: a number {unit}, or a text with a unit", Q::NAME),
        "type": ["number", "string"],
        "examples": [Q::EXAMPLE],
    })
}

/// Writes the number with its unit.
pub(super) fn show(f: &mut fmt::Formatter<'_>, value: f64, unit: &str) -> fmt::Result {
    f.pad(format!("{} {unit}", shortest(value)).trim_end())
}

/// A float as the shortest text that reads back to the same bits, without a trailing ".0".
pub(super) fn shortest(value: f64) -> String {
    let text = format!("{value:?}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}
