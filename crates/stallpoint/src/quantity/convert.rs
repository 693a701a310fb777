//! From a text to an SI value of the expected kind.

use super::error::QuantityError;
use super::kind::{Kind, with_article};
use super::kinds::KINDS;
use super::number::{self, Split};
use super::parse::{self, UnitFault};
use super::symbols;
use super::unit::{Unit, Zero};

/// Reads `text` as a quantity of `kind`; the value is in the kind's SI unit times 10^-`exp10`.
pub(super) fn read(text: &str, kind: &Kind, exp10: i32) -> Result<f64, QuantityError> {
    let split = number::split(text, kind)?;
    let unit = parse::unit(split.rest).map_err(|fault| unit_error(text, split.rest, fault, kind))?;
    if !kind.takes(&unit) {
        let given = text.trim().to_owned();
        return Err(QuantityError::WrongUnit {
            given,
            found: describe(&unit, split.rest),
            expected: kind.name,
            unit: kind.unit,
            example: kind.example,
        });
    }
    let value = if kind.absolute { celsius(&split, &unit) } else { in_si(&split, &unit, exp10) };
    if value.is_finite() {
        Ok(value)
    } else {
        Err(QuantityError::NotFinite { text: text.trim().to_owned(), name: kind.name, example: kind.example })
    }
}

/// Checks that a plain number is finite.
pub(super) fn finite(value: f64, kind: &Kind) -> Result<f64, QuantityError> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(QuantityError::NotFinite { text: value.to_string(), name: kind.name, example: kind.example })
    }
}

fn in_si(split: &Split<'_>, unit: &Unit, exp10: i32) -> f64 {
    let shift = unit.exp10 + exp10;
    if unit.num == 1.0 && unit.den == 1.0 {
        return split.scaled(shift);
    }
    let product = split.scaled(0) * unit.num;
    // Dividing by an exact power of ten rounds once; multiplying by its rounded inverse would round twice.
    if shift < 0 { product / (unit.den * 10f64.powi(-shift)) } else { product * 10f64.powi(shift) / unit.den }
}

/// Kelvin and Fahrenheit by their definitions: 0 °C = 273.15 K = 32 °F.
fn celsius(split: &Split<'_>, unit: &Unit) -> f64 {
    let value = split.scaled(0);
    match unit.zero {
        Some(Zero::Kelvin) => value - 273.15,
        Some(Zero::Fahrenheit) => (value - 32.0) * 5.0 / 9.0,
        Some(Zero::Celsius) | None => value,
    }
}

/// What a unit measures, as the middle of a sentence.
fn describe(unit: &Unit, unit_text: &str) -> String {
    if unit_text.is_empty() {
        return "has no unit".to_owned();
    }
    let names: Vec<String> = KINDS.iter().filter(|k| k.takes(unit)).map(|k| with_article(k.name)).collect();
    if names.is_empty() { format!("has the unit \"{unit_text}\"") } else { format!("is {}", names.join(" or ")) }
}

fn unit_error(text: &str, unit_text: &str, fault: UnitFault, kind: &Kind) -> QuantityError {
    let given = text.trim().to_owned();
    match fault {
        UnitFault::Unknown(unit) => QuantityError::UnknownUnit {
            given,
            suggestions: symbols::suggestions(&unit),
            unit,
            expected: kind.name,
            example: kind.example,
        },
        UnitFault::Malformed(reason) => QuantityError::MalformedUnit {
            given,
            unit: unit_text.to_owned(),
            reason,
            expected: kind.name,
            example: kind.example,
        },
    }
}
