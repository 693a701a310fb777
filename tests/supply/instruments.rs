//! Test lamp and voltmeter behind a bad joint.

use crate::support::assert_close;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Joint, TestLamp, VoltageSource, Voltmeter};

fn behind(joint: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", Joint::new(joint).unwrap(), [("a", "p"), ("b", "stud")]).unwrap();
    circuit
}

#[test]
fn exact_meter_hardly_sees_what_dims_the_lamp() {
    let mut metered = behind("3 ohm");
    metered.add("meter", Voltmeter::default(), [("plus", "stud"), ("minus", "ground")]).unwrap();
    let op = metered.operating_point().unwrap();
    assert_close(op.state("meter", "reading").unwrap(), 12.0 * 1e7 / (1e7 + 3.0), 1e-13, "reading");

    // The filament takes its own share by its resistance as it is then: v = V R / (R + 3 ohm).
    let mut lit = behind("3 ohm");
    lit.add("lamp", TestLamp::new("12 V", "21 W").unwrap(), [("a", "stud"), ("b", "ground")]).unwrap();
    let op = lit.operating_point().unwrap();
    let r = op.state("lamp", "resistance").unwrap();
    let power = 144.0 * r / (r + 3.0) / (r + 3.0);
    assert_close(op.state("lamp", "power").unwrap(), power, 1e-9, "power");
    assert!(r < 144.0 / 21.0 && power < 12.0, "{r} ohm, {power} W");
    let options = TransientOptions { start: Some(op.as_start()), ..TransientOptions::rtol(1e-6) };
    let run = lit.transient(2.0, &options).unwrap();
    assert_close(run.energy.part("lamp").unwrap().dissipated, 2.0 * power, 1e-6, "heat");
}

#[test]
fn exact_reading_turns_with_the_leads() {
    let mut circuit = behind("0.1 ohm");
    circuit.add("meter", Voltmeter::new("400 kohm").unwrap(), [("minus", "stud"), ("plus", "ground")]).unwrap();
    let reading = circuit.operating_point().unwrap().state("meter", "reading").unwrap();
    assert_close(reading, -12.0 * 4e5 / (4e5 + 0.1), 1e-13, "reading");
}

#[test]
fn exact_refusals_name_the_argument() {
    assert_eq!(TestLamp::new("12 V", "0 W").unwrap_err().to_string(), "`rated_power` is 0 W, but must be above 0 W");
    assert_eq!(
        TestLamp::new("12 A", "21 W").unwrap_err().to_string(),
        "`rated_voltage`: \"12 A\" is a current; a voltage is expected, for example \"24 V\""
    );
    assert_eq!(
        Voltmeter::new("-1 Mohm").unwrap_err().to_string(),
        "`input_resistance` is -1000000 ohm, but must be above 0 ohm"
    );
}
