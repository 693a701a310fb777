//! The number at the start of a text.

use super::error::QuantityError;
use super::kind::Kind;

/// A text split into its number (plain ASCII, ready for `f64::from_str`) and the rest.
#[derive(Debug, PartialEq)]
pub(super) struct Split<'a> {
    pub mantissa: String,
    pub exponent: i32,
    pub rest: &'a str,
}

impl Split<'_> {
    /// The number times a power of ten, rounded once.
    pub fn scaled(&self, exp10: i32) -> f64 {
        let exponent = self.exponent.saturating_add(exp10);
        // The text was checked digit by digit, so it always parses.
        format!("{}e{exponent}", self.mantissa).parse().unwrap_or(f64::NAN)
    }
}

/// Splits `text` after its number; `kind` is what was expected, for the message.
pub(super) fn split<'a>(text: &'a str, kind: &Kind) -> Result<Split<'a>, QuantityError> {
    let given = text.trim();
    let not_a_number = || QuantityError::NotANumber { text: given.to_owned(), name: kind.name, example: kind.example };
    let (sign, unsigned) = match given.chars().next() {
        Some('-' | '\u{2212}') => ("-", &given[given.chars().next().map_or(0, char::len_utf8)..]),
        Some('+') => ("", &given[1..]),
        _ => ("", given),
    };
    let word: String = unsigned.chars().take_while(|c| c.is_ascii_alphabetic()).collect();
    if ["nan", "inf", "infinity"].contains(&word.to_ascii_lowercase().as_str()) {
        return Err(QuantityError::NotFinite { text: given.to_owned(), name: kind.name, example: kind.example });
    }
    let whole = digits(unsigned);
    let mut end = whole;
    if unsigned[end..].starts_with('.') {
        end += 1 + digits(&unsigned[end + 1..]);
    }
    let has_digit = unsigned[..end].bytes().any(|b| b.is_ascii_digit());
    if !has_digit {
        return Err(not_a_number());
    }
    if unsigned[end..].starts_with(',') {
        return Err(QuantityError::DecimalComma { text: given.to_owned() });
    }
    let mantissa = format!("{sign}{}", &unsigned[..end]);
    let (exponent, used) = exponent(&unsigned[end..]).ok_or_else(not_a_number)?;
    Ok(Split { mantissa, exponent, rest: unsigned[end + used..].trim() })
}

/// How many ASCII digits `text` starts with.
fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// The decimal exponent `text` starts with and its length; (0, 0) without one, `None` if it is absurdly long.
fn exponent(text: &str) -> Option<(i32, usize)> {
    let Some(after) = text.strip_prefix(['e', 'E']) else {
        return Some((0, 0));
    };
    let (negative, sign_len) = match after.chars().next() {
        Some('-') => (true, 1),
        Some('\u{2212}') => (true, '\u{2212}'.len_utf8()),
        Some('+') => (false, 1),
        _ => (false, 0),
    };
    let count = digits(&after[sign_len..]);
    if count == 0 {
        return Some((0, 0));
    }
    let magnitude: i32 = after[sign_len..sign_len + count].parse().ok()?;
    Some((if negative { -magnitude } else { magnitude }, 1 + sign_len + count))
}
