//! Worked examples of textbooks: starting currents, starting resistances.

use super::build::{motor, number, reference, resistor, with_source};
use stallpoint::parts::VoltageSource;
use stallpoint::parts::load::ResistingTorque;

/// Current of a held armature of `ra` ohms with `extra` ohms before it; the source's power too.
fn held(volts: f64, ra: f64, extra: Option<f64>) -> (f64, f64) {
    let mut circuit = with_source(VoltageSource::constant(volts).unwrap());
    if let Some(ohms) = extra {
        resistor(&mut circuit, "starter", ohms, "p", "stud");
    }
    let stud = if extra.is_some() { "stud" } else { "p" };
    // Inductance, constant and inertia do not enter a held rotor's equilibrium.
    circuit.add("motor", motor(ra, 1e-3, 1.0, 1.0), [("plus", stud), ("minus", "ground")]).unwrap();
    circuit.attach("motor", ResistingTorque::new(1e9, 1e9).unwrap()).unwrap();
    let op = circuit.operating_point().unwrap();
    assert!(op.stuck);
    let current = op.current("motor").unwrap();
    (current, -op.current("source").unwrap() * op.voltage("p").unwrap())
}

fn close(found: f64, printed: f64, digits: f64) {
    assert!((found / printed - 1.0).abs() < digits, "{found} against {printed}");
}

#[test]
fn val_starting_current_and_resistance_for_twice_the_rated() {
    let data = reference("dc_motor_examples.toml", "pm_starting_example");
    let (v, ra) = (number(&data, "V"), number(&data, "Ra_ohm"));
    close(held(v, ra, None).0, number(&data, "I_start_A"), 1e-9);
    close(held(v, ra, Some(number(&data, "R_ext_for_2x"))).0, 2.0 * number(&data, "I_rated_A"), 1e-9);
}

#[test]
fn val_starting_current_of_a_220_v_armature() {
    let data = reference("dc_motor_examples.toml", "shunt_220V");
    close(held(number(&data, "V"), number(&data, "Ra_ohm"), None).0, number(&data, "I_start_A"), 1e-9);
}

#[test]
fn val_starting_power_of_a_230_v_armature() {
    let data = reference("dc_motor_examples.toml", "start_230V_50hp");
    let (current, power) = held(number(&data, "V"), number(&data, "Ra_ohm"), None);
    close(current, number(&data, "I_start_A"), 1e-9);
    close(power, number(&data, "P_start_W"), 1e-9);
}

#[test]
fn val_starting_resistance_of_the_handbook() {
    let data = reference("dc_motor_examples.toml", "doe_starting_resistance");
    let (current, _) = held(number(&data, "Et_V"), number(&data, "Ra_ohm"), Some(number(&data, "Rs_ohm")));
    close(current, number(&data, "factor") * number(&data, "I_A"), 1e-9);
}
