//! Voltmeters load what they measure.

use crate::support::{assert_close, behind};
use stallpoint::instruments::{Instrument, InstrumentError};
use stallpoint::parts::Voltmeter;

#[test]
fn exact_reading_behind_a_resistance() {
    for (meter, input) in [(Voltmeter::default(), 1e7), (Voltmeter::low_impedance(), 3e3)] {
        for joint in [3.0, 1e4] {
            let circuit = behind(12.6, &format!("{joint} ohm"));
            let reading = Instrument::Voltmeter(meter.clone()).read(&circuit, "stud", "ground").unwrap();
            assert_close(reading.value, 12.6 * input / (input + joint), 1e-9, "reading");
            assert_eq!((reading.unit, reading.word), ("V", None));
        }
    }
}

/// The circuit stays as it was, and a node it does not have is not made.
#[test]
fn exact_a_probe_on_nothing_is_an_error() {
    let circuit = behind(12.6, "3 ohm");
    let error = Instrument::Voltmeter(Voltmeter::default()).read(&circuit, "stub", "ground").unwrap_err();
    assert!(matches!(error, InstrumentError::Circuit(_)));
    assert!(error.to_string().starts_with("there is no node \"stub\"; known are "), "{error}");
    assert_eq!(circuit.part_names(), ["source", "joint"]);
}

/// A part of the name that the instrument would take does not hinder it.
#[test]
fn exact_two_meters_at_once() {
    let mut circuit = behind(12.6, "10 kohm");
    circuit.add("voltmeter", Voltmeter::new("10 kohm").unwrap(), [("plus", "stud"), ("minus", "ground")]).unwrap();
    let reading = Instrument::Voltmeter(Voltmeter::new("10 kohm").unwrap()).read(&circuit, "stud", "ground").unwrap();
    assert_close(reading.value, 12.6 / 3.0, 1e-9, "reading");
    assert_eq!(reading.to_string(), "4.2 V");
}
