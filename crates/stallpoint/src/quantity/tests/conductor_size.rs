//! Conductor sizes.

use crate::quantity::*;

fn size(text: &str) -> ConductorSize {
    text.parse().unwrap_or_else(|e: QuantityError| panic!("{text}: {e}"))
}

#[test]
fn exact_spellings() {
    for text in ["35 mm2", "35mm²", "0.35 cm2", "35e-6 m2"] {
        assert_eq!(size(text), ConductorSize::Metric { mm2: 35.0 }, "{text}");
    }
    for (text, n) in [
        ("2 AWG", 2),
        ("AWG 2", 2),
        ("2awg", 2),
        ("AWG2", 2),
        ("1/0 AWG", 0),
        ("0 AWG", 0),
        ("2/0 AWG", -1),
        ("AWG 2/0", -1),
        ("00 AWG", -1),
        ("4/0 AWG", -3),
        ("0000 AWG", -3),
        ("40 AWG", 40),
    ] {
        assert_eq!(size(text), ConductorSize::Awg { n }, "{text}");
    }
    assert_eq!(IntoQuantity::<ConductorSize>::into_quantity(35e-6).unwrap(), ConductorSize::Metric { mm2: 35.0 });
    assert_eq!(serde_json::from_str::<ConductorSize>("0.000035").unwrap(), ConductorSize::Metric { mm2: 35.0 });
}

#[test]
fn exact_written_forms() {
    for text in ["35 mm2", "2 AWG", "1/0 AWG", "2/0 AWG", "4/0 AWG", "0.75 mm2"] {
        assert_eq!(size(text).to_string(), text);
    }
}

#[test]
fn exact_areas() {
    assert_eq!(size("35 mm2").area_mm2(), 35.0);
    assert_eq!(size("35 mm2").area_m2(), 35.0 * 1e-6);
    // 4/0 is 0.46 in across (ASTM B258), so its area is pi/4 (0.46 in)^2.
    let four_zeros = std::f64::consts::FRAC_PI_4 * (0.46f64 * 0.0254).powi(2);
    assert!((size("4/0 AWG").area_m2() / four_zeros - 1.0).abs() < 1e-14);
}

#[test]
fn exact_messages() {
    let message = |t: &str| t.parse::<ConductorSize>().unwrap_err().to_string();
    assert_eq!(
        message("5/0 AWG"),
        r#""5/0 AWG" is not a conductor size: gauges go from 4/0 to 40; give other sizes in mm2, for example "150 mm2""#
    );
    assert_eq!(
        message("2.5 AWG"),
        r#""2.5 AWG" is not a conductor size: a gauge is a whole number or 1/0 to 4/0, for example "2 AWG" or "2/0 AWG""#
    );
    assert_eq!(message("0 mm2"), r#""0 mm2" is not a conductor size: its cross-section has to be above zero"#);
    assert_eq!(message("35 mm"), r#""35 mm" is a length; a conductor size is expected, for example "35 mm2""#);
    for text in ["AWG", "0/0 AWG", "-2 AWG", "+2 AWG", "41 AWG", "00000 AWG", "-35 mm2"] {
        assert!(matches!(text.parse::<ConductorSize>(), Err(QuantityError::OutOfRange { .. })), "{text}");
    }
    assert!(IntoQuantity::<ConductorSize>::into_quantity(-35e-6).is_err());
    assert!(IntoQuantity::<ConductorSize>::into_quantity(f64::INFINITY).is_err());
}
