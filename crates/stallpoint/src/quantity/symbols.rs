//! The unit symbols and their prefixes.
//!
//! Source: SI Brochure (BIPM, 9th edition) for SI units; inch, foot, pound, standard gravity and the 550 ft lbf/s
//! horsepower: NIST Special Publication 811, Appendix B (exact definitions).

use super::unit::{Unit, Zero};

/// A symbol, its unit, and the prefixes it takes.
pub(super) struct Symbol {
    pub text: &'static str,
    pub unit: Unit,
    pub prefixes: &'static [(&'static str, i32)],
}

const NONE: &[(&str, i32)] = &[];
const SI: &[(&str, i32)] =
    &[("p", -12), ("n", -9), ("u", -6), ("µ", -6), ("μ", -6), ("m", -3), ("k", 3), ("M", 6), ("G", 9)];
/// The metre alone takes centi.
const METRE: &[(&str, i32)] = &[("n", -9), ("u", -6), ("µ", -6), ("μ", -6), ("m", -3), ("c", -2), ("k", 3)];
const KILO: &[(&str, i32)] = &[("k", 3)];

const fn sym(
    text: &'static str,
    dims: [i8; 5],
    num: f64,
    exp10: i32,
    prefixes: &'static [(&'static str, i32)],
) -> Symbol {
    Symbol { text, unit: Unit { num, den: 1.0, exp10, dims, angle: 0, zero: None }, prefixes }
}

const fn angle(text: &'static str, den: f64, dims: [i8; 5], prefixes: &'static [(&'static str, i32)]) -> Symbol {
    let num = if den == 1.0 { 1.0 } else { std::f64::consts::PI };
    Symbol { text, unit: Unit { num, den, exp10: 0, dims, angle: 1, zero: None }, prefixes }
}

const fn temperature(text: &'static str, num: f64, den: f64, zero: Zero) -> Symbol {
    let unit = Unit { num, den, exp10: 0, dims: [0, 0, 0, 0, 1], angle: 0, zero: Some(zero) };
    Symbol { text, unit, prefixes: NONE }
}

const OHM: [i8; 5] = [2, 1, -3, -2, 0];
const JOULE: [i8; 5] = [2, 1, -2, 0, 0];
const WATT: [i8; 5] = [2, 1, -3, 0, 0];
const COULOMB: [i8; 5] = [0, 0, 1, 1, 0];
const WEBER: [i8; 5] = [2, 1, -2, -1, 0];
const NEWTON: [i8; 5] = [1, 1, -2, 0, 0];
const PASCAL: [i8; 5] = [-1, 1, -2, 0, 0];
const SECOND: [i8; 5] = [0, 0, 1, 0, 0];
const METRE_DIM: [i8; 5] = [1, 0, 0, 0, 0];
const KILOGRAM: [i8; 5] = [0, 1, 0, 0, 0];

/// Every symbol; a plain match goes before a prefixed one, so "min" is the minute.
pub(super) const SYMBOLS: &[Symbol] = &[
    sym("V", [2, 1, -3, -1, 0], 1.0, 0, SI),
    sym("A", [0, 0, 0, 1, 0], 1.0, 0, SI),
    sym("ohm", OHM, 1.0, 0, SI),
    sym("Ohm", OHM, 1.0, 0, SI),
    sym("\u{3a9}", OHM, 1.0, 0, SI),
    sym("\u{2126}", OHM, 1.0, 0, SI),
    sym("S", [-2, -1, 3, 2, 0], 1.0, 0, SI),
    sym("H", [2, 1, -2, -2, 0], 1.0, 0, SI),
    sym("F", [-2, -1, 4, 2, 0], 1.0, 0, SI),
    sym("Wb", WEBER, 1.0, 0, SI),
    sym("Vs", WEBER, 1.0, 0, SI),
    sym("W", WATT, 1.0, 0, SI),
    sym("hp", WATT, 745.699_871_582_270_2, 0, NONE),
    sym("J", JOULE, 1.0, 0, SI),
    sym("Ws", JOULE, 1.0, 0, SI),
    sym("Wh", JOULE, 3600.0, 0, SI),
    sym("C", COULOMB, 1.0, 0, SI),
    sym("As", COULOMB, 1.0, 0, SI),
    sym("Ah", COULOMB, 3600.0, 0, SI),
    sym("N", NEWTON, 1.0, 0, SI),
    sym("Nm", JOULE, 1.0, 0, SI),
    sym("lbf", NEWTON, 44_482_216_152_605.0, -13, NONE),
    sym("Pa", PASCAL, 1.0, 0, SI),
    sym("bar", PASCAL, 1.0, 5, NONE),
    sym("s", SECOND, 1.0, 0, SI),
    sym("min", SECOND, 60.0, 0, NONE),
    sym("h", SECOND, 3600.0, 0, NONE),
    sym("Hz", [0, 0, -1, 0, 0], 1.0, 0, SI),
    sym("m", METRE_DIM, 1.0, 0, METRE),
    sym("in", METRE_DIM, 254.0, -4, NONE),
    sym("ft", METRE_DIM, 3048.0, -4, NONE),
    sym("g", KILOGRAM, 1.0, -3, SI),
    sym("lb", KILOGRAM, 45_359_237.0, -8, NONE),
    sym("%", [0; 5], 1.0, -2, NONE),
    angle("rad", 1.0, [0; 5], SI),
    angle("deg", 180.0, [0; 5], NONE),
    angle("°", 180.0, [0; 5], NONE),
    angle("rpm", 30.0, [0, 0, -1, 0, 0], KILO),
    temperature("K", 1.0, 1.0, Zero::Kelvin),
    temperature("degC", 1.0, 1.0, Zero::Celsius),
    temperature("°C", 1.0, 1.0, Zero::Celsius),
    temperature("℃", 1.0, 1.0, Zero::Celsius),
    temperature("degF", 5.0, 9.0, Zero::Fahrenheit),
    temperature("°F", 5.0, 9.0, Zero::Fahrenheit),
];

/// The unit of a symbol with or without a prefix.
pub(super) fn find(text: &str) -> Option<Unit> {
    if let Some(symbol) = SYMBOLS.iter().find(|s| s.text == text) {
        return Some(symbol.unit);
    }
    SYMBOLS.iter().find_map(|symbol| {
        let prefix = text.strip_suffix(symbol.text)?;
        let (_, exponent) = symbol.prefixes.iter().find(|(p, _)| *p == prefix)?;
        Some(Unit { exp10: symbol.unit.exp10 + exponent, ..symbol.unit })
    })
}

/// Words people write for symbols.
const WORDS: &[(&str, &str)] = &[
    ("volt", "V"),
    ("amp", "A"),
    ("ampere", "A"),
    ("watt", "W"),
    ("sec", "s"),
    ("second", "s"),
    ("minute", "min"),
    ("hr", "h"),
    ("hour", "h"),
    ("metre", "m"),
    ("meter", "m"),
    ("inch", "in"),
    ("feet", "ft"),
    ("foot", "ft"),
    ("kelvin", "K"),
    ("celsius", "degC"),
    ("degree", "deg"),
    ("newton", "N"),
    ("joule", "J"),
    ("farad", "F"),
    ("henry", "H"),
    ("siemens", "S"),
    ("mho", "S"),
    ("percent", "%"),
    ("rps", "Hz"),
    ("kgm", "kg m"),
    ("sqmm", "mm2"),
    ("mmsq", "mm2"),
];

/// Symbols that an unknown unit may have meant, at most three.
pub(super) fn suggestions(unknown: &str) -> Vec<String> {
    let lower = unknown.to_lowercase();
    let singular = lower.strip_suffix('s').unwrap_or(&lower);
    let mut found: Vec<String> =
        WORDS.iter().filter(|(w, _)| *w == lower || *w == singular).map(|(_, s)| (*s).to_owned()).collect();
    for symbol in SYMBOLS.iter().filter(|s| s.text.is_ascii() && s.text != "Ohm") {
        for prefix in std::iter::once("").chain(symbol.prefixes.iter().map(|(p, _)| *p)).filter(|p| p.is_ascii()) {
            let candidate = format!("{prefix}{}", symbol.text);
            let low = candidate.to_lowercase();
            if (low == lower || low == singular) && !found.contains(&candidate) {
                found.push(candidate);
            }
        }
    }
    found.truncate(3);
    found
}
