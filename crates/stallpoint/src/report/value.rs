//! Numbers with units for people.

/// A number with its unit to a sensible number of digits: three, with a prefix where that reads better.
///
/// # Example
/// ```
/// use stallpoint::report::with_unit;
///
/// assert_eq!(with_unit(161.34, "A"), "161 A");
/// assert_eq!(with_unit(0.0916, "ohm"), "91.6 mohm");
/// assert_eq!(with_unit(0.0031, "1"), "0.0031");
/// assert_eq!(with_unit(f64::INFINITY, "s"), "never");
/// ```
pub fn with_unit(value: f64, unit: &str) -> String {
    if value.is_nan() {
        return "not known".into();
    }
    if value.is_infinite() {
        return if unit == "s" { "never".into() } else { "unlimited".into() };
    }
    let small = value != 0.0 && value.abs() < 0.1;
    match unit {
        "1" | "" => digits(value),
        "ohm" | "s" | "V" if small && value.abs() >= 1e-4 => format!("{} m{unit}", digits(value * 1e3)),
        "ohm" | "s" | "V" if small => format!("{} u{unit}", digits(value * 1e6)),
        _ => format!("{} {unit}", digits(value)),
    }
}

/// Three significant digits, without an exponent between 1e-4 and 1e6.
fn digits(value: f64) -> String {
    let size = value.abs();
    if value == 0.0 {
        return "0".into();
    }
    if !(1e-4..1e6).contains(&size) {
        return format!("{value:.2e}");
    }
    let places = (2 - size.log10().floor() as i32).max(0) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

#[cfg(test)]
mod tests {
    use super::with_unit;

    #[test]
    fn exact_digits() {
        for (value, unit, text) in [
            (12.482, "V", "12.5 V"),
            (0.018_5, "s", "18.5 ms"),
            (0.18, "s", "0.18 s"),
            (2.0e-5, "ohm", "20 uohm"),
            (0.0, "A", "0 A"),
            (-3.0, "V", "-3 V"),
            (1234.5, "A2 s", "1234 A2 s"),
            (2.5e7, "A2 s", "2.50e7 A2 s"),
        ] {
            assert_eq!(with_unit(value, unit), text);
        }
    }
}
