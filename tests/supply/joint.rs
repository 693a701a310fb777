//! Joint against Ohm's law.

use crate::support::{assert_close, assert_derivatives, assert_energy_adds_up};
use stallpoint::circuit::{Circuit, Memory, TransientOptions};
use stallpoint::parts::{CurrentSource, Joint, Resistor, VoltageSource};

fn divider(joint: Joint, load: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", joint, [("a", "p"), ("b", "stud")]).unwrap();
    circuit.add("load", Resistor::new(load).unwrap(), [("a", "stud"), ("b", "ground")]).unwrap();
    circuit
}

#[test]
fn exact_divider_from_nano_ohms_to_ohms() {
    for r in [1e-9, 1e-6, 1e-4, 0.06, 3.0] {
        let circuit = divider(Joint::new(r).unwrap(), "0.1 ohm");
        let op = circuit.operating_point().unwrap();
        assert_close(op.current("joint").unwrap(), 12.0 / (0.1 + r), 1e-12, "current");
        assert_close(op.voltage("stud").unwrap(), 1.2 / (0.1 + r), 1e-12, "voltage");
    }
}

#[test]
fn exact_open_joint_leaks_a_nanosiemens() {
    let op = divider(Joint { open: true, ..Joint::default() }, "0.1 ohm").operating_point().unwrap();
    assert_close(op.current("joint").unwrap(), 12e-9, 1e-9, "leakage");
}

#[test]
fn exact_heat_is_current_squared_times_resistance() {
    let mut circuit = Circuit::new();
    circuit.add("source", CurrentSource::constant("-80 A").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", Joint::default(), [("a", "p"), ("b", "ground")]).unwrap();
    let run = circuit.transient(2.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert_close(run.energy.part("joint").unwrap().dissipated, 80.0 * 80.0 * 1e-4 * 2.0, 1e-9, "heat");
    assert_energy_adds_up(&run, 1e-6);
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    for open in [false, true] {
        assert_derivatives(&Joint { open, ..Joint::default() }, &[12.0, 11.0, 40.0], &Memory::default());
    }
}

#[test]
fn exact_reads_back_from_a_file() {
    assert_eq!(toml::from_str::<Joint>("").unwrap(), Joint::default());
    assert_eq!(toml::from_str::<Joint>("resistance = '60 mohm'").unwrap(), Joint::new("60 mohm").unwrap());
}

#[test]
fn exact_refusals_name_the_argument() {
    assert_eq!(Joint::new(0.0).unwrap_err().to_string(), "`resistance` is 0 ohm, but must be above 0 ohm");
    assert_eq!(
        Joint::new("60 mV").unwrap_err().to_string(),
        "`resistance`: \"60 mV\" is a voltage; a resistance is expected, for example \"25 mohm\""
    );
}
