//! Readings that mislead, each with what unmasks it.

use stallpoint::drive::Fault;
use stallpoint::studies::faultfinding::{Held, Measurement, Observed, Tool, When, readings};

use super::support::{boat_lift, number, shown, table, volts};

/// A signal wire off its coil picks up a ghost through damp: 10 Mohm shows volts, the low-impedance input does not.
#[test]
fn prop_ghost_voltage_on_an_open_signal_wire() {
    let ghost = Fault::new("coil_a_terminal", "off_and_damp").with_amount(1e6);
    let at = |tool| Measurement::between(tool, Held::AtRest, "coil_a_lug", "coil_return");
    let (high, low) = (number(&shown(&ghost, &at(Tool::Voltmeter))), number(&shown(&ghost, &at(Tool::LowImpedance))));
    // V · 10 Mohm / 11 Mohm and V · 3 kohm / 1.003 Mohm.
    assert!((high / 12.7 - 10.0 / 11.0).abs() < 0.02, "{high}");
    assert!((low / 12.7 - 3e3 / 1.003e6).abs() < 1e-4, "{low}");
}

/// The ground contact of motor B does not make: with the control forward both motor studs read supply, through the motor.
#[test]
fn prop_both_motor_studs_at_supply_through_the_motor() {
    let fault = Fault::new("ground_contact_b", "not_making");
    for stud in ["motor_a_stud", "motor_b_stud"] {
        let reading = number(&shown(&fault, &volts(Held::Forward, stud, "ground_stud")));
        assert!(reading > 12.0, "{stud} {reading}");
    }
    let across = number(&shown(&fault, &volts(Held::Forward, "motor_a_stud", "motor_b_stud")));
    assert!(across.abs() < 0.05, "{across}"); // what tells: nothing across the motor
}

/// With the coils' return off, the signal for one coil feeds back through both: the other coil's terminal is live.
#[test]
fn prop_back_feed_through_both_coils() {
    let fault = Fault::new("coil_return_wire", "floating");
    for coil in ["coil_a", "coil_b"] {
        let reading = number(&shown(&fault, &volts(Held::Forward, coil, "ground_stud")));
        assert!(reading > 12.0, "{coil} {reading}");
    }
    let across = number(&shown(&fault, &volts(Held::Forward, "coil_a", "coil_return")));
    assert!(across.abs() < 0.01, "{across}"); // what tells: nothing across the coil
}

/// Read to the case, a corroded ground looks good: the case is bonded to the stud and lifts with it.
#[test]
fn prop_ground_read_to_the_case() {
    let fault = Fault::joint("ground_stud_joint", "0.13 ohm").unwrap();
    let to_case = number(&shown(&fault, &volts(Held::Forward, "ground_stud", "case")));
    let to_battery = number(&shown(&fault, &volts(Held::Forward, "ground_stud", "battery_negative")));
    assert!(to_case.abs() < 1e-3 && to_battery > 5.0, "{to_case} {to_battery}");
}

/// A healthy braked contactor at rest: both motor studs at ground and about 0 Ω between them. No short.
#[test]
fn prop_a_healthy_braked_contactor_looks_shorted() {
    let (drive, table) = (boat_lift(), table());
    let show = |m: &Measurement| number(&table.shown(&drive, m).unwrap());
    for stud in ["motor_a_stud", "motor_b_stud"] {
        assert!(show(&volts(Held::AtRest, stud, "ground_stud")).abs() < 1e-3);
    }
    let ohms = Measurement::between(Tool::Ohmmeter, Held::Isolated, "motor_a_stud", "motor_b_stud");
    assert!(show(&ohms) < 0.01);
}

/// An ohmmeter sees parallel paths: an open motor still reads 0 Ω at the studs, through the braked contactor.
#[test]
fn prop_an_ohmmeter_reads_through_parallel_paths() {
    let ohms = Measurement::between(Tool::Ohmmeter, Held::Isolated, "motor_a_stud", "motor_b_stud");
    assert!(number(&shown(&Fault::new("motor", "open"), &ohms)) < 0.01);
    // An open coil: to the return it reads open, the other coil being no way round it.
    let coil = Measurement::between(Tool::Ohmmeter, Held::Isolated, "coil_a", "coil_return");
    assert_eq!(shown(&Fault::new("coil_a", "open"), &coil), Observed::Word("open".into()));
}

/// A peak-hold clamp shows less than the true peak, and the readings table says so.
#[test]
fn prop_a_peak_hold_clamp_reads_low() {
    let rows = readings(&boat_lift()).unwrap();
    let row = rows.iter().find(|row| row.when == When::Surge).unwrap();
    let start = boat_lift()
        .start(stallpoint::drive::Direction::Forward, &stallpoint::drive::StartOptions::hold("0.5 s").unwrap())
        .unwrap();
    let shown = number(&row.shows);
    assert!(shown < start.surge.peak_current && shown > 0.9 * start.surge.peak_current, "{shown}");
    assert!(row.note.contains("true peak"));
}

/// Both regimes of a bad joint: milliohms hide from meter and lamp at rest; ohms hide from the meter only.
#[test]
fn prop_two_regimes_of_a_bad_joint() {
    let lamp = Measurement::between(Tool::TestLamp, Held::AtRest, "supply_stud", "ground_stud");
    let meter = volts(Held::AtRest, "supply_stud", "ground_stud");
    let under_load = volts(Held::Forward, "supply_stud", "ground_stud");
    for (ohms, word) in [(0.1, "bright"), (10.0, "glow")] {
        let fault = Fault::joint("ground_stud_joint", ohms).unwrap();
        assert!(number(&shown(&fault, &meter)) > 12.5, "{ohms}");
        assert_eq!(shown(&fault, &lamp), Observed::Word(word.into()), "{ohms}");
        assert!(number(&shown(&fault, &under_load)) < 8.0, "{ohms}");
    }
}

/// The table's quick way of putting an instrument in (source resistance) agrees with the instrument in the circuit.
#[test]
fn exact_source_resistance_stands_for_the_instrument_in_the_circuit() {
    use stallpoint::instruments::{Instrument, Word};
    use stallpoint::parts::{TestLamp, Voltmeter};
    for fault in [
        Fault::joint("ground_stud_joint", 3.0).unwrap(),
        Fault::new("coil_a_terminal", "off_and_damp"),
        Fault::new("control_supply_wire", "fuse_blown"),
    ] {
        let bad = boat_lift().with_fault(&fault).unwrap();
        for (plus, minus) in [("supply_stud", "ground_stud"), ("coil_a", "coil_return"), ("control_supply", "case")] {
            for (tool, meter) in
                [(Tool::Voltmeter, Voltmeter::default()), (Tool::LowImpedance, Voltmeter::low_impedance())]
            {
                let quick = number(&shown(&fault, &Measurement::between(tool, Held::AtRest, plus, minus)));
                let full = bad.measure(&Instrument::Voltmeter(meter), plus, minus, None).unwrap().value;
                // The table's instrument shows whole steps of its display.
                let step = 0.5 * tool.resolution(full);
                assert!(
                    (quick - full).abs() < step + 1e-4 + 1e-5 * full.abs(),
                    "{fault} {plus} {minus}: {quick} {full}"
                );
            }
        }
        let quick = shown(&fault, &Measurement::between(Tool::TestLamp, Held::AtRest, "supply_stud", "ground_stud"));
        let lamp = Instrument::TestLamp(TestLamp::new("12 V", "21 W").unwrap());
        let full = bad.measure(&lamp, "supply_stud", "ground_stud", None).unwrap().word;
        let Some(Word::Brightness(full)) = full else { panic!() };
        assert_eq!(quick, Observed::Word(full.to_string()), "{fault}");
    }
}
