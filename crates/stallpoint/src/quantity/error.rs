//! What can be wrong with a quantity.

use super::kind::with_article;
use thiserror::Error;

/// Why a number or text is not the quantity that was asked for.
///
/// The message is a full sentence about the value; the caller adds which argument it was given for.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// A readable unit of another kind, or none.
    #[error(
        "\"{given}\" {found}; {} is expected, for example \"{example}\"{}",
        with_article(expected),
        fahrenheit(given, expected)
    )]
    WrongUnit {
        /// The text as given.
        given: String,
        /// What it is instead: "is a voltage", "has no unit".
        found: String,
        /// The expected kind: "resistance".
        expected: &'static str,
        /// The expected kind's SI unit: "ohm".
        unit: &'static str,
        /// A text that would be right.
        example: &'static str,
    },
    /// A unit symbol that is not known.
    #[error(
        "\"{given}\" has the unknown unit \"{unit}\"{}; {} is expected, for example \"{example}\"",
        did_you_mean(suggestions),
        with_article(expected)
    )]
    UnknownUnit {
        /// The text as given.
        given: String,
        /// The symbol that is not known.
        unit: String,
        /// Symbols that may have been meant.
        suggestions: Vec<String>,
        /// The expected kind.
        expected: &'static str,
        /// A text that would be right.
        example: &'static str,
    },
    /// A unit expression that does not follow the grammar.
    #[error(
        "\"{given}\" has a unit that cannot be read, \"{unit}\": {reason}; {} is expected, for example \"{example}\"",
        with_article(expected)
    )]
    MalformedUnit {
        /// The text as given.
        given: String,
        /// The unit part of it.
        unit: String,
        /// What is wrong.
        reason: &'static str,
        /// The expected kind.
        expected: &'static str,
        /// A text that would be right.
        example: &'static str,
    },
    /// The text does not start with a number.
    #[error("\"{text}\" does not start with a number; {} is expected, for example \"{example}\"", with_article(name))]
    NotANumber {
        /// The text as given.
        text: String,
        /// The expected kind.
        name: &'static str,
        /// A text that would be right.
        example: &'static str,
    },
    /// A comma inside the number.
    #[error(
        "\"{text}\" has a comma in its number; write the decimal point as \".\" and leave out thousands separators"
    )]
    DecimalComma {
        /// The text as given.
        text: String,
    },
    /// NaN, an infinity, or a number too large for a double.
    #[error("{text} is not {}: give a finite number, for example \"{example}\"", with_article(name))]
    NotFinite {
        /// The number as given.
        text: String,
        /// The expected kind.
        name: &'static str,
        /// A text that would be right.
        example: &'static str,
    },
    /// A finite number outside what the kind can be.
    #[error("\"{given}\" is not {}: {reason}", with_article(name))]
    OutOfRange {
        /// The value as given.
        given: String,
        /// The expected kind.
        name: &'static str,
        /// The range and what to try.
        reason: &'static str,
    },
}

/// "F" is the farad.
fn fahrenheit(given: &str, expected: &str) -> &'static str {
    if expected == "temperature" && given.ends_with('F') { "; degrees Fahrenheit are written \"degF\"" } else { "" }
}

fn did_you_mean(suggestions: &[String]) -> String {
    if suggestions.is_empty() {
        return String::new();
    }
    let quoted: Vec<String> = suggestions.iter().map(|s| format!("\"{s}\"")).collect();
    format!(" (did you mean {}?)", quoted.join(" or "))
}
