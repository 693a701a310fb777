//! Nothing is lost on the way through text, JSON and TOML.

use crate::quantity::*;
use proptest::prelude::*;
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize, PartialEq, Debug)]
struct File<Q> {
    value: Q,
}

fn check<Q>(quantity: Q, si: fn(Q) -> f64) -> Result<(), TestCaseError>
where
    Q: Quantity + Serialize + for<'de> Deserialize<'de>,
{
    let bits = |q: Q| si(q).to_bits();
    let text = quantity.to_string();
    prop_assert_eq!(bits(text.parse().unwrap()), bits(quantity), "{}", text);
    let json = serde_json::to_string(&quantity).unwrap();
    prop_assert_eq!(bits(serde_json::from_str(&json).unwrap()), bits(quantity), "{}", json);
    let file = toml::to_string(&File { value: quantity }).unwrap();
    let back: File<Q> = toml::from_str(&file).unwrap();
    prop_assert_eq!(bits(back.value), bits(quantity), "{}", file);
    let number = toml::to_string(&File { value: si(quantity) }).unwrap();
    let back: File<Q> = toml::from_str(&number).unwrap();
    prop_assert_eq!(bits(back.value), bits(quantity), "{}", number);
    Ok(())
}

/// Any finite double, by its bits: subnormals and huge ones included.
fn finite() -> impl Strategy<Value = f64> {
    any::<u64>().prop_map(f64::from_bits).prop_filter("finite", |x| x.is_finite())
}

proptest! {
    #[test]
    fn prop_display_json_and_toml_keep_every_bit(x in finite()) {
        check(Resistance::from_si(x), Resistance::si)?;
        check(Area::from_si(x), Area::si)?;
        check(QuadraticDrag::from_si(x), QuadraticDrag::si)?;
        check(Force::from_si(x), Force::si)?;
        check(JouleIntegral::from_si(x), JouleIntegral::si)?;
        check(Resistivity::from_si(x), Resistivity::si)?;
        check(AngularSpeed::from_si(x), AngularSpeed::si)?;
        check(Temperature::from_si(x), Temperature::si)?;
        check(Fraction::from_si(x), Fraction::si)?;
        check(Angle::from_si(x), Angle::si)?;
        check(TorqueConstant::from_si(x), TorqueConstant::si)?;
    }

    #[test]
    fn prop_a_decimal_prefix_is_the_decimal_exponent(mantissa in -1_000_000i64..1_000_000) {
        let milli: Voltage = format!("{mantissa} mV").parse().unwrap();
        let plain: f64 = format!("{mantissa}e-3").parse().unwrap();
        prop_assert_eq!(milli.si().to_bits(), plain.to_bits());
    }

    #[test]
    fn prop_no_text_panics(text in "\\PC{0,24}") {
        let _ = text.parse::<Voltage>();
        let _ = text.parse::<ConductorSize>();
    }

    #[test]
    fn prop_no_unit_like_text_panics(text in "[-+−]?[0-9]{0,3}[.,e]?[0-9]{0,3} ?[a-zA-Zµ°Ω%²⁻^*·/0-9 -]{0,12}") {
        let _ = text.parse::<Torque>();
        let _ = text.parse::<ConductorSize>();
    }

    #[test]
    fn prop_conductor_sizes_round_trip(mm2 in 1e-3..1e4, n in -3..=40) {
        for size in [ConductorSize::Metric { mm2 }, ConductorSize::Awg { n }] {
            prop_assert_eq!(size.to_string().parse::<ConductorSize>().unwrap(), size);
            let file = toml::to_string(&File { value: size }).unwrap();
            prop_assert_eq!(toml::from_str::<File<ConductorSize>>(&file).unwrap().value, size);
            let json = serde_json::to_string(&size).unwrap();
            prop_assert_eq!(serde_json::from_str::<ConductorSize>(&json).unwrap(), size);
        }
    }
}

#[test]
fn exact_written_forms() {
    assert_eq!(Resistance::from_si(0.025).to_string(), "0.025 ohm");
    assert_eq!(Resistance::from_si(25.0).to_string(), "25 ohm");
    assert_eq!(Resistance::from_si(1e-9).to_string(), "1e-9 ohm");
    assert_eq!(Temperature::from_si(-5.0).to_string(), "-5 degC");
    assert_eq!(Fraction::from_si(0.5).to_string(), "0.5");
    assert_eq!(serde_json::to_string(&Resistance::from_si(0.025)).unwrap(), "\"0.025 ohm\"");
    assert_eq!(serde_json::to_string(&Fraction::from_si(0.5)).unwrap(), "0.5");
}

#[test]
fn exact_integers_in_files_are_taken() {
    assert_eq!(toml::from_str::<File<Voltage>>("value = 24").unwrap().value.si(), 24.0);
    assert_eq!(serde_json::from_str::<Voltage>("-24").unwrap().si(), -24.0);
    assert!(toml::from_str::<File<Voltage>>("value = nan").is_err());
}

#[test]
fn exact_schema_takes_numbers_and_texts() {
    let schema = serde_json::to_value(schemars::schema_for!(Resistance)).unwrap();
    assert_eq!(schema["type"], serde_json::json!(["number", "string"]));
    assert_eq!(schema["examples"], serde_json::json!(["25 mohm"]));
    assert_eq!(schema["title"], "Resistance");
}
