//! Where the motor studs lie.

use stallpoint::parts::{Resistor, RestPosition};

use super::drive::{contactor, control_and_power, pulses, with_motor};

#[test]
fn exact_braked_at_rest_both_motor_studs_are_on_ground() {
    let op = with_motor(contactor(RestPosition::Braked), pulses(&[]), pulses(&[])).operating_point().unwrap();
    for stud in ["motor_a_stud", "motor_b_stud"] {
        assert!(op.voltage(stud).unwrap().abs() < 1e-6, "{stud}");
    }
}

#[test]
fn exact_open_at_rest_the_motor_floats_on_the_leaks() {
    // Four equal leaks: half the supply voltage, whichever stud.
    let op = with_motor(contactor(RestPosition::Open), pulses(&[]), pulses(&[])).operating_point().unwrap();
    for stud in ["motor_a_stud", "motor_b_stud"] {
        assert!((op.voltage(stud).unwrap() - 6.3).abs() < 1e-6, "{stud}: {}", op.voltage(stud).unwrap());
    }
    // A voltmeter of 10 Mohm pulls it down: 2 leaks of 1 nS each way against 0.1 uS.
    let mut circuit = with_motor(contactor(RestPosition::Open), pulses(&[]), pulses(&[]));
    circuit.add("meter", Resistor::new("10 Mohm").unwrap(), [("a", "motor_a_stud"), ("b", "ground_stud")]).unwrap();
    let exact = 12.6 * 2e-9 / (4e-9 + 1e-7);
    let reading = circuit.operating_point().unwrap().voltage("motor_a_stud").unwrap();
    assert!((reading / exact - 1.0).abs() < 1e-6, "{reading} against {exact}");
}

#[test]
fn exact_sealed_motor_studs_follow_the_coil() {
    for rest in [RestPosition::Braked, RestPosition::Open] {
        for (a, sign) in [(true, 1.0), (false, -1.0)] {
            let on = || stallpoint::parts::VoltageSource::constant("12.6 V").unwrap();
            let (a, b) = if a { (on(), pulses(&[])) } else { (pulses(&[]), on()) };
            let mut circuit = control_and_power(contactor(rest), a, b);
            circuit
                .add("motor", Resistor::new("1 ohm").unwrap(), [("a", "motor_a_stud"), ("b", "motor_b_stud")])
                .unwrap();
            let op = circuit.operating_point().unwrap();
            // 1 ohm, two cables of 10 mohm, two contacts of 0.3 mohm
            let exact = sign * 12.6 / 1.0206;
            let found = op.current("motor").unwrap();
            assert!((found / exact - 1.0).abs() < 1e-6, "{rest:?}: {found} against {exact}");
            assert!((op.state("contactor", "armature_a_position").unwrap() > 0.5) == (sign > 0.0));
        }
    }
}

#[test]
fn exact_on_48_volts_an_open_contact_at_full_gap_does_not_strike_at_the_operating_point() {
    let mut circuit = stallpoint::Circuit::new();
    let source = |volts: f64| stallpoint::parts::VoltageSource::constant(volts).unwrap();
    circuit.add("battery", source(48.0), [("plus", "supply_stud"), ("minus", "ground")]).unwrap();
    circuit.add("control", source(12.0), [("plus", "coil_a"), ("minus", "ground")]).unwrap();
    let nodes = super::drive::TERMINALS
        .map(|(terminal, node)| (terminal, if node == "ground_stud" || node == "coil_b" { "ground" } else { node }));
    circuit.add("contactor", contactor(RestPosition::Braked), nodes).unwrap();
    circuit.add("motor", Resistor::new("1 ohm").unwrap(), [("a", "motor_a_stud"), ("b", "motor_b_stud")]).unwrap();
    let op = circuit.operating_point().unwrap();
    let exact = 48.0 / 1.0006;
    assert!((op.current("motor").unwrap() / exact - 1.0).abs() < 1e-6);
    assert!(op.state("contactor", "ground_a_current").unwrap().abs() < 1e-6);
}
