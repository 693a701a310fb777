//! Where the volts go: the loop adds up, and a bad joint shows only under load.

use stallpoint::Error;
use stallpoint::drive::{Direction, Fault};
use stallpoint::studies::surge::{Group, Moment, volts_lost};

use super::support::{assert_close, boat_lift, study, with};

#[test]
fn exact_every_column_adds_up_to_the_open_circuit_voltage() {
    let drive = boat_lift();
    for direction in Direction::BOTH {
        for moment in [Moment::AtRest, Moment::AtPeak, Moment::Held, Moment::LockedRotor] {
            let lost = volts_lost(&drive, direction, moment).unwrap();
            let sum: f64 = lost.drops.iter().map(|drop| drop.volts).sum();
            assert_close(sum, lost.open_circuit, 1e-9, &lost.when);
            let groups: f64 = Group::ALL.iter().map(|group| lost.group(*group).volts).sum();
            assert_close(groups, sum, 1e-9, "groups");
            let loop_names: Vec<&str> = lost.drops.iter().map(|drop| drop.to.as_str()).collect();
            assert_eq!(loop_names.last(), Some(&"battery_negative"));
        }
    }
}

#[test]
fn exact_drops_are_ohms_law_at_locked_rotor() {
    let drive = boat_lift();
    for direction in Direction::BOTH {
        let lost = volts_lost(&drive, direction, Moment::LockedRotor).unwrap();
        let joint = lost.element("ground_stud_joint").unwrap();
        assert_close(joint.volts, 0.2e-3 * lost.current, 1e-6, "joint");
        assert_close(joint.watts, 0.2e-3 * lost.current * lost.current, 1e-6, "joint");
        let cable = lost.element("supply_cable").unwrap();
        assert_close(cable.volts, drive.supply_cable.resistance() * lost.current, 1e-6, "cable");
        // Motor: 42 mΩ at 20 °C and 0.8 V of brushes.
        let motor = lost.group(Group::Motor);
        assert_close(motor.volts, 0.042 * lost.current + 0.8, 1e-6, "motor");
    }
}

#[test]
fn exact_a_bad_joint_shows_only_under_load() {
    let bad = boat_lift().with_fault(&Fault::joint("ground_stud_joint", "0.13 ohm").unwrap()).unwrap();
    let rest = volts_lost(&bad, Direction::Forward, Moment::AtRest).unwrap();
    assert!(rest.element("ground_stud_joint").unwrap().volts.abs() < 1e-6);
    let supply = rest.between("battery_positive", "supply_stud").unwrap();
    assert_close(rest.battery - supply, bad.battery.open_circuit_voltage(), 1e-6, "meter at the supply stud");
    let held = volts_lost(&bad, Direction::Forward, Moment::Held).unwrap();
    assert_eq!(held.when, "stalled forward");
    let joint = held.element("ground_stud_joint").unwrap();
    assert!(joint.volts > 0.5 * held.open_circuit && joint.watts > 300.0, "{joint:?}");
    assert_eq!(volts_lost(&boat_lift(), Direction::Forward, Moment::Held).unwrap().when, "running forward");
}

#[test]
fn exact_a_chattering_drive_has_no_such_state() {
    let bad = with(&[("control.coil_return", "ground_stud"), ("ground_stud_joint.resistance", "0.13 ohm")]);
    let error = volts_lost(&bad, Direction::Forward, Moment::Held).unwrap_err();
    assert!(matches!(&error, Error::NoEquilibrium { parts } if parts.contains("contactor")), "{error}");
}

#[test]
fn exact_the_study_shows_rest_peak_and_running() {
    let study = study(&[]);
    let whens: Vec<&str> = study.volts.iter().map(|lost| lost.when.as_str()).collect();
    assert_eq!(whens[0], "at rest");
    assert!(whens[1].starts_with("surge peak forward, ") && whens[2] == "running forward", "{whens:?}");
    let peak = study.directions[0].start.surge.peak_current;
    assert_close(study.volts[1].current, peak, 1e-3, "current of the peak");
}
