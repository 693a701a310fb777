//! Drives with wound-field motors.

use stallpoint::circuit::Signal;
use stallpoint::drive::{BOAT_LIFT, Direction, Drive, Fault, StartOptions};
use stallpoint::parts::motor::Motor;

const SERIES: &str = r#"
[motor]
kind = "series"
[motor.armature]
resistance = "30 mohm"
inductance = "100 uH"
brush_drop = "0.8 V"
[motor.field]
resistance = "12 mohm"
inductance = "200 uH"
magnetisation = { kind = "measured", speed = "1000 rpm", field_current = [40, 80, 160, 320], back_emf = [3.2, 5.2, 6.6, 7.4] }
[motor.rotor]
inertia = "0.002 kg m2"
"#;

const COMPOUND: &str = r#"
[motor]
kind = "compound"
[motor.armature]
resistance = "30 mohm"
inductance = "100 uH"
[motor.shunt]
resistance = "3 ohm"
inductance = "100 mH"
magnetisation = { kind = "linear", mutual_inductance = "12 mH" }
[motor.series]
resistance = "6 mohm"
turns_ratio = 0.003
[motor.rotor]
inertia = "0.002 kg m2"
"#;

/// The boat lift with another motor, made from files as a user would.
fn drive(motor: &str) -> Drive {
    let mut file: toml::Table = BOAT_LIFT.parse().unwrap();
    let own: toml::Table = motor.parse().unwrap();
    file.insert("motor".into(), own["motor"].clone());
    Drive::from_toml_str(&toml::to_string(&file).unwrap()).unwrap()
}

#[test]
fn prop_both_directions_start_and_the_field_keeps_its_own() {
    for (text, states) in [(SERIES, vec!["field_current"]), (COMPOUND, vec!["series_current", "shunt_current"])] {
        let drive = drive(text);
        for direction in Direction::BOTH {
            let start = drive.start(direction, &StartOptions::hold(1.0).unwrap()).unwrap();
            let speed = start.extremes(&Signal::State("motor".into(), "speed".into())).unwrap();
            let most = if direction == Direction::Forward { speed.max } else { -speed.min };
            println!("{direction}: {most} rad/s, peak {} A", start.surge.peak_current);
            assert!(most > 30.0, "{direction}: {speed:?}");
            for state in &states {
                let current = start.extremes(&Signal::State("motor".into(), (*state).into())).unwrap();
                assert!(current.max > 1.0 && current.min > -0.05 * current.max, "{state} {direction}: {current:?}");
            }
            let residual = start.energy.residual() / start.energy.delivered();
            assert!(residual.abs() < 1e-4, "{residual:e}");
        }
    }
}

#[test]
fn exact_the_series_field_is_in_the_loop_and_its_joints_stall_it() {
    let drive = drive(SERIES);
    assert!(drive.joint_names().contains(&"field_in_joint"));
    let healthy = drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    let field = drive.stall_threshold("field_out_joint", Direction::Forward).unwrap().stalls_at.unwrap();
    // Both carry the motor's current; the ground joint is in the control circuit's way too only where its return says so.
    // Each joint's own 0.2 mohm (the ground's as the file has it) is part of what is left to the other.
    println!("{healthy} {field}");
    assert!((healthy - field).abs() < 1e-3, "{healthy} {field}");
    assert!(drive.with_fault(&Fault::joint("field_in_joint", "5 mohm").unwrap()).is_ok());
    let boat = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let text = boat.with_fault(&Fault::joint("field_in_joint", "5 mohm").unwrap()).unwrap_err().to_string();
    assert!(text.contains("field_in_joint"), "{text}");
}

#[test]
fn prop_the_whole_surge_study_runs_on_wound_fields() {
    for text in [SERIES, COMPOUND] {
        let study = stallpoint::studies::surge::surge_study(&drive(text)).unwrap();
        assert!(!study.checks.is_empty());
        let report = study.to_text();
        assert!(report.contains("field"), "{report}");
    }
}

#[test]
fn exact_files_keep_every_motor() {
    for text in [SERIES, COMPOUND] {
        let own = drive(text);
        let again = Drive::from_toml_str(&own.to_toml().unwrap()).unwrap();
        assert_eq!(own, again);
        let worn = own.with_values([("motor.armature.faults.brush_resistance", "20 mohm")]).unwrap();
        assert_eq!(worn.motor.armature().faults.brush_resistance.si(), 0.02);
    }
    let boat = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let worn = boat.with_values([("motor.faults.brush_resistance", "20 mohm")]).unwrap();
    assert!(matches!(&worn.motor, Motor::PermanentMagnet(motor) if motor.faults.brush_resistance.si() == 0.02));
    assert!(boat.with_values([("motor.fault.brush_resistance", "20 mohm")]).is_err());
}

#[test]
fn exact_errors_name_table_and_argument() {
    let text = SERIES.replace("\"12 mohm\"", "\"-12 mohm\"");
    let mut file: toml::Table = BOAT_LIFT.parse().unwrap();
    file.insert("motor".into(), text.parse::<toml::Table>().unwrap()["motor"].clone());
    let error = Drive::from_toml_str(&toml::to_string(&file).unwrap()).unwrap_err().to_string();
    println!("{error}");
    assert!(error.contains("field.resistance") && error.contains("series motor"), "{error}");
}
