//! The metal contact in a joint: hottest spot, melting voltages and constriction, against tests/reference/contacts.toml.

use crate::support::assert_close;
use stallpoint::circuit::Circuit;
use stallpoint::parts::{Constriction, CurrentSource, Joint, LORENZ, hottest_spot_c, spot_voltage};
use stallpoint::quantity::Resistance;

fn reference(table: &str, key: &str) -> f64 {
    let text = include_str!("../reference/contacts.toml");
    let all: toml::Table = toml::from_str(text).unwrap();
    let value = if table.is_empty() { all.get(key) } else { all[table].get(key) };
    value.and_then(toml::Value::as_float).unwrap()
}

#[test]
fn exact_melting_voltages_are_those_of_the_closed_form() {
    assert_eq!(LORENZ, reference("", "lorenz_V2_per_K2"));
    for (key, kelvin) in [("Cu_1358K", 1358.0), ("Ag_1235K", 1235.0), ("Au_1337K", 1337.0), ("Sn_505K", 505.0)] {
        let melts_c = kelvin - 273.15;
        // The rows have four digits.
        let row = reference("closed_form_melting_V", key);
        assert!((spot_voltage(melts_c, 20.0) - row).abs() < 1e-4, "{key}: {}", spot_voltage(melts_c, 20.0));
        assert_close(hottest_spot_c(spot_voltage(melts_c, 20.0), 20.0), melts_c, 1e-12, key);
    }
    assert_eq!(spot_voltage(20.0, 60.0), 0.0);
}

#[test]
fn exact_constriction_is_the_worked_example() {
    let of = |key| reference("worked_example", key);
    let contact = Constriction::new(of("F_N"), of("H_Pa"), of("rho_ohm_m")).unwrap();
    // Six digits each.
    assert_close(contact.spot_radius(), of("a_m"), 1e-6, "radius");
    assert_close(contact.resistance(), of("R_ohm"), 1e-5, "resistance");
    let joint = Joint::pressed(&contact).unwrap();
    assert_eq!((joint.resistance.si(), joint.metallic_resistance()), (contact.resistance(), contact.resistance()));
    // A hundred times the force, a tenth of the resistance.
    let tight = Constriction::new("1 kN", "550 MPa", "1.75e-8 ohm m").unwrap();
    assert_close(tight.resistance(), contact.resistance() / 10.0, 1e-12, "force");
}

#[test]
fn exact_constriction_refusals_name_the_argument() {
    let message = Constriction::new(0.0, 5.5e8, 1.75e-8).unwrap_err().to_string();
    assert_eq!(message, "`force` is 0 N, but must be above 0 N");
    let message = Constriction::new("10 N", "10 N", 1.75e-8).unwrap_err().to_string();
    assert!(message.starts_with("`hardness`: \"10 N\" is a force; a pressure is expected"), "{message}");
}

/// Hottest spot of a joint under a current.
fn spot(joint: Joint, amperes: f64) -> f64 {
    let mut circuit = Circuit::new();
    circuit.add("source", CurrentSource::constant(amperes).unwrap(), [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("joint", joint, [("a", "p"), ("b", "ground")]).unwrap();
    circuit.operating_point().unwrap().state("joint", "hottest_spot").unwrap()
}

#[test]
fn exact_every_joint_shows_its_hottest_spot() {
    // 0.1 mohm and 4142 A: the melting voltage of copper.
    let melts = spot(Joint::default(), 4142.0);
    assert!((melts - (1358.0 - 273.15)).abs() < 0.2, "{melts}");
    // As much the other way; metal that is warm already; a larger share that is metal.
    assert_eq!(spot(Joint::default(), -4142.0), melts);
    let share = Joint { constriction: Some(Resistance::from_si(2e-4)), ..Joint::new("1 mohm").unwrap() };
    assert_close(spot(share, 2071.0), melts, 1e-12, "share");
    let warm = Joint { temperature_c: "60 degC".parse().unwrap(), ..Joint::default() };
    assert_close(spot(warm, 1000.0), hottest_spot_c(0.1, 60.0), 1e-12, "warm");
    // Corrosion is no metal: 6 V across 60 mohm, of which the metal has 0.1 mohm.
    assert_close(spot(Joint::new("60 mohm").unwrap(), 100.0), hottest_spot_c(0.01, 20.0), 1e-12, "corroded");
    let open = Joint { open: true, ..Joint::default() };
    assert_eq!(spot(open, 1e-9), 20.0);
}
