//! The two regimes of a bad joint on the boat lift, with what lamp and meter show.

use stallpoint::drive::{BOAT_LIFT, Direction, Drive, Fault, STAGE_LIFT};
use stallpoint::instruments::{Instrument, InstrumentError, Word};
use stallpoint::parts::{Brightness, TestLamp, Voltmeter};

struct Shown {
    volts: f64,
    watts: f64,
    brightness: Brightness,
    speed: f64,
    current: f64,
}

/// Lamp and meter from supply stud to ground stud at rest; speed and current with the control held forward.
fn shown(ohms: f64) -> Shown {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let bad = drive.with_fault(&Fault::joint("ground_stud_joint", ohms).unwrap()).unwrap();
    let read = |instrument| bad.measure(&instrument, "supply_stud", "ground_stud", None).unwrap();
    let lamp = read(Instrument::TestLamp(TestLamp::new("12 V", "21 W").unwrap()));
    let Some(Word::Brightness(brightness)) = lamp.word else { panic!("a lamp has a brightness") };
    let op = bad.operating_point(Some(Direction::Forward), &Default::default()).unwrap();
    let shown = Shown {
        volts: read(Instrument::Voltmeter(Voltmeter::default())).value,
        watts: lamp.value,
        brightness,
        speed: op.state("motor", "speed").unwrap(),
        current: op.current("motor").unwrap(),
    };
    println!(
        "{ohms} ohm: meter {:.3} V, lamp {:.2} W {}, motor {:.1} rad/s {:.1} A",
        shown.volts, shown.watts, shown.brightness, shown.speed, shown.current
    );
    shown
}

/// 0.03 to 0.3 ohm: lamp and meter say good, the motor is weak or stalled.
#[test]
fn prop_milliohms_hide_from_lamp_and_meter() {
    let healthy = shown(0.2e-3);
    assert!(healthy.speed > 0.0);
    for ohms in [0.03, 0.1, 0.3] {
        let bad = shown(ohms);
        assert!((bad.volts / healthy.volts - 1.0).abs() < 1e-5, "{ohms}");
        assert_eq!(bad.brightness, Brightness::Bright);
        assert!(bad.watts > 0.9 * healthy.watts, "{ohms}");
        assert!(bad.speed < 0.8 * healthy.speed, "{ohms}");
        assert_eq!(bad.speed == 0.0, ohms > 0.09, "{ohms}");
    }
}

/// A few ohms: the meter still says good, the lamp dims, the motor is dead.
#[test]
fn prop_ohms_dim_the_lamp_but_not_the_meter() {
    let healthy = shown(0.2e-3);
    for (ohms, brightness) in [(3.0, Brightness::Dim), (10.0, Brightness::Glow)] {
        let bad = shown(ohms);
        assert!((bad.volts / healthy.volts - 1.0).abs() < 1e-5, "{ohms}");
        assert_eq!(bad.brightness, brightness, "{ohms}");
        assert!(bad.watts < 0.6 * healthy.watts, "{ohms}");
        assert_eq!(bad.speed, 0.0, "{ohms}");
    }
}

/// The low-impedance input escapes a few ohms too: 3 kohm draw 4 mA.
#[test]
fn exact_a_low_impedance_meter_does_not_find_ohms() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let bad = drive.with_fault(&Fault::joint("ground_stud_joint", 10.0).unwrap()).unwrap();
    let read = |meter| bad.measure(&Instrument::Voltmeter(meter), "supply_stud", "ground_stud", None).unwrap().value;
    let (high, low) = (read(Voltmeter::default()), read(Voltmeter::low_impedance()));
    // Both read V_oc Z / (Z + R) with R some 10 ohm and milliohms.
    assert!((low / high - 3000.0 / 3010.0).abs() < 1e-4, "{low} against {high}");
}

/// A 12 V lamp is not put on the 48 V of the stage lift, a 48 V lamp is.
#[test]
fn exact_a_lamp_for_the_wrong_drive_is_refused() {
    let drive = Drive::from_toml_str(STAGE_LIFT).unwrap();
    let read = |volts: &str| {
        let lamp = Instrument::TestLamp(TestLamp::new(volts, "21 W").unwrap());
        drive.measure(&lamp, "supply_stud", "ground_stud", None)
    };
    let error = read("12 V").unwrap_err();
    assert!(matches!(error, InstrumentError::AboveRating { rated: 12.0, voltage, .. } if voltage > 50.0), "{error}");
    assert_eq!(read("48 V").unwrap().word, Some(Word::Brightness(Brightness::Bright)));
}

/// Only a load on the joint shows it: the drop over it with the motor held, against the lamp's.
#[test]
fn prop_voltage_drop_under_load_proves_it() {
    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let bad = drive.with_fault(&Fault::joint("ground_stud_joint", 0.1).unwrap()).unwrap();
    let meter = Instrument::Voltmeter(Voltmeter::default());
    let drop = |held| bad.measure(&meter, "ground_stud", "ground_stud_lug", held).unwrap().value;
    assert!(drop(None).abs() < 1e-3);
    assert!(drop(Some(Direction::Forward)) > 5.0);
}
