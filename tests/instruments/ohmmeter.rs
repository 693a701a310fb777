//! The ohmmeter, on dead circuits only.

use crate::support::{assert_close, behind};
use stallpoint::circuit::Circuit;
use stallpoint::drive::{BOAT_LIFT, Direction, Drive};
use stallpoint::instruments::{Instrument, InstrumentError, Ohmmeter, Word};
use stallpoint::parts::{Resistor, TestLamp};

fn resistors(beside: Option<&str>) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("one", Resistor::new("60 mohm").unwrap(), [("a", "stud"), ("b", "ground")]).unwrap();
    if let Some(beside) = beside {
        circuit.add("beside", Resistor::new(beside).unwrap(), [("a", "stud"), ("b", "ground")]).unwrap();
    }
    circuit
}

#[test]
fn exact_what_lies_beside_counts() {
    let meter = Ohmmeter::default();
    assert_close(meter.read(&resistors(None), "stud", "ground").unwrap().value, 0.06, 1e-8, "alone");
    let both = meter.read(&resistors(Some("20 mohm")), "ground", "stud").unwrap();
    assert_close(both.value, 0.015, 1e-8, "beside");
    assert_eq!((both.unit, both.word), ("ohm", None));
}

#[test]
fn exact_beyond_its_range_it_shows_open() {
    let mut circuit = resistors(None);
    circuit.add("leak", Resistor::new("1 Gohm").unwrap(), [("a", "far"), ("b", "ground")]).unwrap();
    let reading = Ohmmeter::default().read(&circuit, "far", "ground").unwrap();
    assert_eq!((reading.value, reading.word), (f64::INFINITY, Some(Word::Open)));
    assert_eq!(reading.to_string(), "open");
}

#[test]
fn exact_a_live_circuit_is_refused() {
    let error = Ohmmeter::default().read(&behind(12.6, "3 ohm"), "stud", "ground").unwrap_err();
    assert!(matches!(error, InstrumentError::Live { voltage, .. } if voltage == 12.6));
    assert_eq!(
        error.to_string(),
        "resistance of \"stud\" to \"ground\": 12.600 V are there; isolate the circuit, prove it dead, and measure again"
    );
    let negative = Ohmmeter::default().read(&behind(12.6, "3 ohm"), "ground", "stud").unwrap_err();
    assert!(matches!(negative, InstrumentError::Live { voltage, .. } if voltage == -12.6));
    let off = Ohmmeter { largest: stallpoint::quantity::Resistance::from_si(0.0), ..Ohmmeter::default() };
    assert!(off.read(&resistors(None), "stud", "ground").is_err());
}

/// A lamp out of its socket: the ohmmeter heats the filament by a microwatt, and reads it cold.
#[test]
fn exact_a_cold_filament() {
    let lamp = TestLamp { cold_resistance: Some("0.6 ohm".parse().unwrap()), ..TestLamp::new("12 V", "21 W").unwrap() };
    let mut circuit = Circuit::new();
    circuit.add("lamp", lamp, [("a", "tip"), ("b", "shell")]).unwrap();
    circuit.add("bench", Resistor::new("1 mohm").unwrap(), [("a", "shell"), ("b", "ground")]).unwrap();
    let reading = Ohmmeter::default().read(&circuit, "tip", "shell").unwrap();
    assert_close(reading.value, 0.6, 1e-4, "cold");
}

/// On the boat lift: refused at the studs while the isolator is closed; with it open the corroded ground is read.
#[test]
fn exact_on_the_boat_lift() {
    let meter = Instrument::Ohmmeter(Ohmmeter::default());
    let drive =
        Drive::from_toml_str(BOAT_LIFT).unwrap().with_values([("ground_stud_joint.resistance", "60 mohm")]).unwrap();
    for held in [None, Some(Direction::Forward)] {
        let error = drive.measure(&meter, "supply_stud", "ground_stud", held).unwrap_err();
        assert!(matches!(error, InstrumentError::Live { voltage, .. } if voltage > 5.0), "{error}");
    }
    let isolated = drive.with_values([("isolator.closed", false)]).unwrap();
    let reading = isolated.measure(&meter, "ground_stud", "ground_stud_lug", None).unwrap();
    assert_close(reading.value, 0.06, 1e-3, "joint");
}
