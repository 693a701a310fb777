//! Messages in full.

use crate::quantity::*;

fn message<Q: Quantity + std::fmt::Debug>(text: &str) -> String {
    text.parse::<Q>().unwrap_err().to_string()
}

#[test]
fn exact_wrong_units_name_what_was_given() {
    assert_eq!(
        message::<Resistance>("25 mV"),
        r#""25 mV" is a voltage; a resistance is expected, for example "25 mohm""#
    );
    assert_eq!(message::<Resistance>("25"), r#""25" has no unit; a resistance is expected, for example "25 mohm""#);
    assert_eq!(
        message::<Temperature>("20 C"),
        r#""20 C" is a charge; a temperature is expected, for example "25 degC""#
    );
    assert_eq!(
        message::<AngularSpeed>("50 Hz"),
        r#""50 Hz" is a frequency; an angular speed is expected, for example "1800 rpm""#
    );
    assert_eq!(
        message::<Frequency>("3000 rpm"),
        r#""3000 rpm" is an angular speed; a frequency is expected, for example "50 Hz""#
    );
    assert_eq!(
        message::<Voltage>("3 N m"),
        r#""3 N m" is a torque or an energy; a voltage is expected, for example "24 V""#
    );
    assert_eq!(message::<Voltage>("3 V/m"), r#""3 V/m" has the unit "V/m"; a voltage is expected, for example "24 V""#);
    assert_eq!(message::<Angle>("50 %"), r#""50 %" is a fraction; an angle is expected, for example "30 deg""#);
    assert_eq!(message::<Fraction>("1 rad"), r#""1 rad" is an angle; a fraction is expected, for example "50 %""#);
}

#[test]
fn exact_unknown_units_come_with_suggestions() {
    assert_eq!(
        message::<Voltage>("12 volts"),
        r#""12 volts" has the unknown unit "volts" (did you mean "V"?); a voltage is expected, for example "24 V""#
    );
    assert_eq!(
        message::<Resistance>("12 mOHM"),
        r#""12 mOHM" has the unknown unit "mOHM" (did you mean "mohm" or "Mohm"?); a resistance is expected, for example "25 mohm""#
    );
    assert_eq!(
        message::<Voltage>("12 zork"),
        r#""12 zork" has the unknown unit "zork"; a voltage is expected, for example "24 V""#
    );
    // Centi is for the metre only, milli is not for the minute.
    assert!(message::<Voltage>("12 cV").contains("unknown unit \"cV\""));
    assert!(message::<Time>("12 mmin").contains("unknown unit \"mmin\""));
}

#[test]
fn exact_malformed_units_say_why() {
    assert_eq!(
        message::<ThermalResistance>("2 K/W m"),
        r#""2 K/W m" has a unit that cannot be read, "K/W m": a product after "/" can be read in two ways; repeat the "/" instead; a thermal resistance is expected, for example "2.5 K/W""#
    );
    assert_eq!(
        message::<Area>("2 mm22"),
        r#""2 mm22" has a unit that cannot be read, "mm22": a power is one digit from 1 to 9; an area is expected, for example "35 mm2""#
    );
    for text in ["2 *V", "2 V/", "2 V^", "2 V 3", "2 (V)", "1.5.2 V", "2 V9 V9 V9 V9 V9 V9 V9 V9 V9"] {
        assert!(message::<Voltage>(text).contains("cannot be read"), "{text}: {}", message::<Voltage>(text));
    }
}

#[test]
fn exact_bad_numbers() {
    assert_eq!(
        message::<Voltage>("1,5 V"),
        r#""1,5 V" has a comma in its number; write the decimal point as "." and leave out thousands separators"#
    );
    assert_eq!(
        message::<Resistance>("abc"),
        r#""abc" does not start with a number; a resistance is expected, for example "25 mohm""#
    );
    assert_eq!(
        message::<Resistance>("NaN ohm"),
        r#"NaN ohm is not a resistance: give a finite number, for example "25 mohm""#
    );
    assert_eq!(
        message::<Inductance>("1e400 H"),
        r#"1e400 H is not an inductance: give a finite number, for example "120 uH""#
    );
    assert_eq!(
        IntoQuantity::<Resistance>::into_quantity(f64::NAN).unwrap_err().to_string(),
        r#"NaN is not a resistance: give a finite number, for example "25 mohm""#
    );
    for text in ["", " ", "-", "+", ".", "--5 V", "V", "−", "e5 V", "1e99999999999 V"] {
        assert!(matches!(text.parse::<Voltage>(), Err(QuantityError::NotANumber { .. })), "{text}");
    }
    for text in ["inf V", "-inf V", "+Infinity", "nan", "1e308 kV", "-1e999 V"] {
        assert!(matches!(text.parse::<Voltage>(), Err(QuantityError::NotFinite { .. })), "{text}");
    }
}

#[test]
fn exact_a_file_error_carries_the_same_sentence() {
    let error = serde_json::from_str::<Resistance>("\"25 mV\"").unwrap_err().to_string();
    assert!(error.starts_with(r#""25 mV" is a voltage; a resistance is expected"#), "{error}");
    let error = serde_json::from_str::<Resistance>("true").unwrap_err().to_string();
    assert!(error.contains(r#"expected a resistance as a number in ohm or a text such as "25 mohm""#), "{error}");
}

#[test]
fn exact_farad_for_a_temperature_hints_at_fahrenheit() {
    let error = "155 F".parse::<crate::quantity::Temperature>().unwrap_err().to_string();
    assert!(error.ends_with("degrees Fahrenheit are written \"degF\""), "{error}");
    let other = "5 F".parse::<Resistance>().unwrap_err().to_string();
    assert!(!other.contains("degF"), "{other}");
}
