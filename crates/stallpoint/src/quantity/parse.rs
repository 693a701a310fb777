//! Unit expressions: "N m s2/rad2", "mm²", "V/krpm", "lb ft".

use super::symbols;
use super::unit::Unit;

/// Why a unit text could not be read.
#[derive(Debug, PartialEq)]
pub(super) enum UnitFault {
    Unknown(String),
    Malformed(&'static str),
}

/// One symbol to a power; the power is negative after a "/".
struct Factor {
    symbol: String,
    power: i8,
}

/// Reads a unit expression; an empty text is the unit of a plain number.
pub(super) fn unit(text: &str) -> Result<Unit, UnitFault> {
    let factors = factors(text)?;
    // In "lb ft" and "in lb" the pound is the force; in "lb ft2" (an inertia) and alone it is the mass.
    let once = |names: &[&str]| factors.iter().any(|f| f.power == 1 && names.contains(&f.symbol.as_str()));
    let pound_force = once(&["lb"]) && once(&["ft", "in"]);
    let mut product = Unit::ONE;
    for factor in &factors {
        let name = if pound_force && factor.symbol == "lb" { "lbf" } else { &factor.symbol };
        let symbol = symbols::find(name).ok_or_else(|| UnitFault::Unknown(factor.symbol.clone()))?;
        if factors.len() == 1 && factor.power == 1 {
            return Ok(symbol);
        }
        product = product.times_power(&symbol, factor.power).ok_or(UnitFault::Malformed("a power is too high"))?;
    }
    Ok(product)
}

fn factors(text: &str) -> Result<Vec<Factor>, UnitFault> {
    let mut rest = text.trim();
    let mut found = Vec::new();
    // "1/s" and "/s" are the same quotient.
    if let Some(after) = rest.strip_prefix('1').filter(|r| r.trim_start().starts_with('/')) {
        rest = after.trim_start();
    }
    let mut divided = false;
    let mut first = true;
    while !rest.is_empty() {
        let separator = rest.chars().next().filter(|c| "/*·⋅-".contains(*c));
        if let Some(c) = separator {
            if first && c != '/' {
                return Err(UnitFault::Malformed("it starts with an operator"));
            }
            rest = rest[c.len_utf8()..].trim_start();
        }
        if divided && separator != Some('/') {
            return Err(UnitFault::Malformed(
                "a product after \"/\" can be read in two ways; repeat the \"/\" instead",
            ));
        }
        divided = divided || separator == Some('/');
        let length = rest.find(|c: char| !is_symbol_char(c)).unwrap_or(rest.len());
        if length == 0 {
            return Err(UnitFault::Malformed("a unit symbol is missing"));
        }
        let (symbol, after) = rest.split_at(length);
        let (power, used) = power(after)?;
        found.push(Factor { symbol: symbol.to_owned(), power: if divided { -power } else { power } });
        rest = after[used..].trim_start();
        first = false;
    }
    Ok(found)
}

fn is_symbol_char(c: char) -> bool {
    // U+00B2, U+00B3 and U+00B9 are superscripts, not letters, and U+00B5 (micro) is alphabetic.
    c.is_alphabetic() || c == '%' || c == '°' || c == '℃' || c == '\u{2126}'
}

/// The power `text` starts with ("2", "^-1", "²") and its length in bytes; 1 without one.
fn power(text: &str) -> Result<(i8, usize), UnitFault> {
    let mut used = 0;
    let mut negative = false;
    let mut value: Option<i8> = None;
    for (at, c) in text.char_indices() {
        let digit = match c {
            '^' if at == 0 => None,
            '-' | '\u{2212}' | '⁻' if value.is_none() && !negative => {
                // A hyphen before a letter is a product ("lb-ft"), before a digit a sign ("s-1").
                let next = text[at + c.len_utf8()..].chars().next();
                if !next.is_some_and(|n| n.is_ascii_digit() || superscript(n).is_some()) {
                    break;
                }
                negative = true;
                None
            }
            '0'..='9' => c.to_digit(10).map(|d| d as i8),
            _ => match superscript(c) {
                Some(d) => Some(d),
                None => break,
            },
        };
        if let Some(d) = digit {
            if value.is_some() || d == 0 {
                return Err(UnitFault::Malformed("a power is one digit from 1 to 9"));
            }
            value = Some(d);
        }
        used = at + c.len_utf8();
    }
    match value {
        Some(d) => Ok((if negative { -d } else { d }, used)),
        None if used > 0 => Err(UnitFault::Malformed("a power has no digit")),
        None => Ok((1, 0)),
    }
}

fn superscript(c: char) -> Option<i8> {
    "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|s| s == c).map(|d| d as i8)
}
