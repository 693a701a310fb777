//! Numbers for people.

/// Prefixes with their powers of ten, largest first.
const PREFIXES: [(&str, i32); 7] = [("M", 6), ("k", 3), ("", 0), ("m", -3), ("µ", -6), ("n", -9), ("p", -12)];
/// Units that take a prefix; the others, and numbers without a unit, do not.
const PREFIXED: [&str; 9] = ["V", "A", "Ω", "s", "W", "J", "H", "F", "Hz"];

/// A number with its unit, as people say it: three significant digits, four for a voltage from 10 V; a prefix below a tenth
/// or above a thousand of the unit ("25.6 ms", "0.185 s", "1.41 kA"), and milliohms below an ohm.
///
/// "ohm" is written Ω, "degC" °C and "1" not at all. Less than a billionth of a volt,
/// ampere or watt is nothing. A time above ten minutes is in minutes; an infinite one is "never".
///
/// # Example
/// ```
/// use stallpoint::report::quantity;
///
/// assert_eq!(quantity(0.0917, "ohm"), "91.7 mΩ");
/// assert_eq!(quantity(3.0, "s"), "3 s");
/// assert_eq!(quantity(f64::INFINITY, "s"), "never");
/// ```
pub fn quantity(value: f64, unit: &str) -> String {
    if unit == "s" && value == f64::INFINITY {
        return "never".into();
    }
    let (value, unit) = match unit {
        "ohm" => (value, "Ω"),
        "1" => (value, ""),
        "degC" => (value, "°C"),
        "s" if value.abs() > 600.0 => (value / 60.0, "min"),
        other => (value, other),
    };
    // A leak of less than that is nothing anyone could measure.
    let value = if ["A", "V", "W"].contains(&unit) && value.abs() < 1e-9 { 0.0 } else { value };
    let digits = if unit == "V" && value.abs() >= 10.0 { 4 } else { 3 };
    let rounded = significant(value, digits);
    let least = |power: i32| if power > 0 || (power, unit) == (0, "Ω") { 1.0 } else { 0.1 };
    let (prefix, power) = match PREFIXED.contains(&unit) && rounded != 0.0 && rounded.is_finite() {
        true => *PREFIXES
            .iter()
            .filter(|(prefix, _)| !(unit == "s" && (*prefix == "k" || *prefix == "M")))
            .find(|(_, power)| rounded.abs() >= least(*power) * 10f64.powi(*power) * (1.0 - 1e-9))
            .unwrap_or(&PREFIXES[PREFIXES.len() - 1]),
        false => ("", 0),
    };
    format!("{} {prefix}{unit}", shown(value * 10f64.powi(-power), digits)).trim_end().into()
}

/// A value that may be missing: "–" when it is.
pub fn maybe(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| "–".into(), |value| quantity(value, unit))
}

/// A fraction in per cent with three significant digits: "5.27 %".
pub fn percent(fraction: f64) -> String {
    format!("{} %", number(100.0 * fraction))
}

/// Three significant digits without trailing zeros; all digits before the point.
pub fn number(value: f64) -> String {
    shown(value, 3)
}

fn shown(value: f64, digits: usize) -> String {
    if !value.is_finite() || value == 0.0 {
        return format!("{}", value.abs());
    }
    let rounded = significant(value, digits);
    let decimals = (digits as i32 - 1 - rounded.abs().log10().floor() as i32).max(0) as usize;
    let text = format!("{rounded:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
}

/// Rounds to significant digits.
fn significant(value: f64, digits: usize) -> f64 {
    format!("{value:.*e}", digits - 1).parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_three_digits_with_a_prefix() {
        let shown = [
            (0.091_603, "ohm", "91.6 mΩ"),
            (0.0002, "ohm", "0.2 mΩ"),
            (0.00002, "ohm", "20 µΩ"),
            (0.169, "ohm", "169 mΩ"),
            (12.746, "V", "12.75 V"),
            (0.672, "V", "0.672 V"),
            (999.9, "A", "1 kA"),
            (1408.4, "A", "1.41 kA"),
            (62.698, "A", "62.7 A"),
            (0.184_89, "s", "0.185 s"),
            (0.025_62, "s", "25.6 ms"),
            (13.716, "s", "13.7 s"),
            (601.0, "s", "10 min"),
            (0.0, "A", "0 A"),
            (-0.05, "V", "-50 mV"),
            (0.003_118, "1", "0.00312"),
            (154.96, "degC", "155 °C"),
            (4.9e-324, "A", "0 A"),
            (-3e-12, "V", "0 V"),
            (2e-9, "A", "2 nA"),
            (20e-12, "F", "20 pF"),
            (42.0, "rad/s", "42 rad/s"),
        ];
        for (value, unit, text) in shown {
            assert_eq!(quantity(value, unit), text);
        }
        assert_eq!(percent(0.05273), "5.27 %");
        assert_eq!(maybe(None, "A"), "–");
    }
}
