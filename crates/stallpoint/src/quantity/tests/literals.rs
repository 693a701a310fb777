//! Literal texts against their values by definition of the units (SI Brochure; NIST SP 811 for inch, foot and pound).

use crate::quantity::kinds::KINDS;
use crate::quantity::*;

fn si<Q: Quantity>(text: &str, get: fn(Q) -> f64) -> f64 {
    get(text.parse().unwrap_or_else(|e: QuantityError| panic!("{text}: {e}")))
}

#[test]
fn exact_every_kind_is_consistent_with_its_own_unit_and_example() {
    for kind in KINDS {
        let unit = crate::quantity::parse::unit(kind.unit).unwrap();
        assert!(kind.takes(&unit), "{}", kind.name);
        assert_eq!((unit.num, unit.den, unit.exp10), (1.0, 1.0, 0), "{} is not in SI", kind.name);
        let example = crate::quantity::convert::read(kind.example, kind, 0).unwrap();
        assert!(example > 0.0, "{}", kind.name);
    }
    assert_eq!(KINDS.len(), 32);
}

#[test]
fn exact_prefixes_and_spellings() {
    let ohm = |t| si(t, Resistance::si);
    for (text, value) in [
        ("25 mohm", 0.025),
        ("25mohm", 0.025),
        ("  25   mohm ", 0.025),
        ("25 m\u{3a9}", 0.025),
        ("25 m\u{2126}", 0.025),
        ("2 Mohm", 2e6),
        ("2 kohm", 2e3),
        ("2 Gohm", 2e9),
        ("2 uohm", 2e-6),
        ("2 \u{b5}ohm", 2e-6),
        ("2 \u{3bc}ohm", 2e-6),
        ("2 nohm", 2e-9),
        ("2 pohm", 2e-12),
        ("1e-3 ohm", 1e-3),
        ("1E-3ohm", 1e-3),
        ("1e\u{2212}3 ohm", 1e-3),
        ("+5 ohm", 5.0),
        ("-5 ohm", -5.0),
        ("\u{2212}5 ohm", -5.0),
        (".5 ohm", 0.5),
        ("5. ohm", 5.0),
        ("3 V/A", 3.0),
        ("3 mV/A", 0.003),
        ("3 /S", 3.0),
        ("3 1/S", 3.0),
        ("3 S^-1", 3.0),
        ("3 S-1", 3.0),
        ("3 S⁻¹", 3.0),
        ("12 kg m2 s-3 A-2", 12.0),
    ] {
        assert_eq!(ohm(text), value, "{text}");
    }
}

#[test]
fn exact_electrical_and_thermal_units() {
    assert_eq!(si("24 V", Voltage::si), 24.0);
    assert_eq!(si("80 A", Current::si), 80.0);
    assert_eq!(si("1 nS", Conductance::si), 1e-9);
    assert_eq!(si("1 1/ohm", Conductance::si), 1.0);
    assert_eq!(si("120 uH", Inductance::si), 120e-6);
    assert_eq!(si("470 µF", Capacitance::si), 470e-6);
    assert_eq!(si("30 mWb", FluxLinkage::si), 0.03);
    assert_eq!(si("30 mV s", FluxLinkage::si), 0.03);
    assert_eq!(si("1.5 kW", Power::si), 1500.0);
    assert_eq!(si("2 V A", Power::si), 2.0);
    assert_eq!(si("1 Wh", Energy::si), 3600.0);
    assert_eq!(si("2 kWh", Energy::si), 7.2e6);
    assert_eq!(si("100 Ah", Charge::si), 360_000.0);
    assert_eq!(si("500 mAh", Charge::si), 1800.0);
    assert_eq!(si("3 A·h", Charge::si), 10_800.0);
    assert_eq!(si("2.5 K/W", ThermalResistance::si), 2.5);
    assert_eq!(si("2.5 °C/W", ThermalResistance::si), 2.5);
    assert_eq!(si("400 J/K", HeatCapacity::si), 400.0);
    assert_eq!(si("50 %", Fraction::si), 0.5);
    assert_eq!(si("50%", Fraction::si), 0.5);
    assert_eq!(si("0.5", Fraction::si), 0.5);
}

#[test]
fn exact_time_length_and_mass() {
    assert_eq!(si("250 ms", Time::si), 0.25);
    assert_eq!(si("5 min", Time::si), 300.0);
    assert_eq!(si("2 h", Time::si), 7200.0);
    assert_eq!(si("50 Hz", Frequency::si), 50.0);
    assert_eq!(si("20 kHz", Frequency::si), 20e3);
    assert_eq!(si("5 1/min", Frequency::si), 5.0 / 60.0);
    assert_eq!(si("24 ft", Length::si), 7.3152);
    assert_eq!(si("10 in", Length::si), 0.254);
    assert_eq!(si("5 mm", Length::si), 0.005);
    assert_eq!(si("5 cm", Length::si), 0.05);
    assert_eq!(si("35 mm2", Area::si), 35e-6);
    assert_eq!(si("35 mm²", Area::si), 35e-6);
    assert_eq!(si("35 mm^2", Area::si), 35e-6);
    assert_eq!(si("2 cm2", Area::si), 2e-4);
    assert_eq!(si("5 g", Mass::si), 0.005);
    assert_eq!(si("3.5 kg", Mass::si), 3.5);
    assert_eq!(si("1 lb", Mass::si), 0.453_592_37);
}

#[test]
fn exact_mechanical_units() {
    // One pound-force foot: 4.4482216152605 N x 0.3048 m (NIST SP 811, exact).
    let foot_pound = 4.448_221_615_260_5 * 0.3048;
    for text in ["1 lb ft", "1 ft lb", "1 lbf ft", "1 ft lbf", "1 ft-lb", "1 lb*ft"] {
        assert!((si(text, Torque::si) - foot_pound).abs() < 4e-16, "{text}");
    }
    assert!((si("12 lb in", Torque::si) - foot_pound).abs() < 4e-16);
    // In an inertia the pound is the mass.
    assert!((si("1 lb ft2", Inertia::si) - 0.453_592_37 * 0.3048 * 0.3048).abs() < 1e-17);
    assert_eq!(si("12 N m", Torque::si), 12.0);
    assert_eq!(si("12 Nm", Torque::si), 12.0);
    assert_eq!(si("12 N·m", Torque::si), 12.0);
    assert_eq!(si("12 N*m", Torque::si), 12.0);
    assert_eq!(si("12 mN m", Torque::si), 0.012);
    assert_eq!(si("12 mNm", Torque::si), 0.012);
    assert_eq!(si("5 J", Torque::si), 5.0);
    assert_eq!(si("0.12 Nm/A", TorqueConstant::si), 0.12);
    assert_eq!(si("0.12 N m/A", TorqueConstant::si), 0.12);
    assert_eq!(si("0.12 V s/rad", TorqueConstant::si), 0.12);
    // 1 V per rpm is 30/pi V s/rad by definition of the revolution.
    assert!((si("10 V/krpm", TorqueConstant::si) - 0.3 / std::f64::consts::PI).abs() < 1e-16);
    assert_eq!(si("20 g cm2", Inertia::si), 2e-6);
    assert_eq!(si("0.02 kg m²", Inertia::si), 0.02);
    // One turn per second; a product and a quotient are rounded, so up to two units in the last place.
    let turn = 2.0 * std::f64::consts::PI;
    assert!((si("60 rpm", AngularSpeed::si) - turn).abs() <= 2.0 * f64::EPSILON * turn);
    assert_eq!(si("7 rad/s", AngularSpeed::si), 7.0);
    assert_eq!(si("1e-3 N m s", AngularDamping::si), 1e-3);
    assert_eq!(si("2e-5 N m s2/rad2", QuadraticDrag::si), 2e-5);
    assert_eq!(si("2 kN", Force::si), 2e3);
    assert_eq!(si("0.9 kA2 s", JouleIntegral::si), 9e5);
    assert_eq!(si("17.5 nohm m", Resistivity::si), 17.5e-9);
    assert_eq!(si("2e-5 N m s^2", QuadraticDrag::si), 2e-5);
    assert_eq!(si("180 deg", Angle::si), std::f64::consts::PI);
    assert_eq!(si("5 mrad", Angle::si), 0.005);
    // 550 ft lbf/s.
    let horsepower = 550.0 * foot_pound;
    assert!((si("1 hp", Power::si) - horsepower).abs() < 1e-12);
}

#[test]
fn exact_temperatures_carry_their_zero() {
    let celsius = |t| si(t, Temperature::si);
    assert_eq!(celsius("-5 degC"), -5.0);
    assert_eq!(celsius("\u{2212}5 °C"), -5.0);
    assert_eq!(celsius("273.15 K"), 0.0);
    assert_eq!(celsius("32 degF"), 0.0);
    assert_eq!(celsius("212 °F"), 100.0);
    assert_eq!(celsius("-40 degF"), -40.0);
}

#[test]
fn exact_numbers_and_owned_texts_are_taken() {
    assert_eq!(IntoQuantity::<Resistance>::into_quantity(0.025).unwrap().si(), 0.025);
    assert_eq!(IntoQuantity::<Resistance>::into_quantity(2).unwrap().si(), 2.0);
    assert_eq!(IntoQuantity::<Resistance>::into_quantity("2 mohm".to_owned()).unwrap().si(), 0.002);
    let same = Resistance::from_si(3.0);
    assert_eq!(IntoQuantity::<Resistance>::into_quantity(same).unwrap(), same);
    assert_eq!((Resistance::NAME, Resistance::UNIT), ("resistance", "ohm"));
}

#[test]
fn exact_no_text_means_two_units() {
    let mut texts = std::collections::HashSet::new();
    for symbol in crate::quantity::symbols::SYMBOLS {
        for prefix in std::iter::once("").chain(symbol.prefixes.iter().map(|(p, _)| *p)) {
            let text = format!("{prefix}{}", symbol.text);
            assert!(texts.insert(text.clone()), "{text}");
        }
    }
}
