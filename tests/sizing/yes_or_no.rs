//! Requirements without a margin: an arc stays or goes out, the contactor lets go or holds.

use stallpoint::Drive;
use stallpoint::parts::RestPosition;
use stallpoint::studies::sizing::{Assessment, SizingOptions, assess};

use super::support::{at, with};

fn found(drive: &Drive) -> Assessment {
    assess(drive, &SizingOptions::default()).unwrap()
}

/// Bisects between a number at which the requirement holds and one at which it does not; both sides judged.
#[track_caller]
fn edge(key: &str, drive: impl Fn(f64) -> Drive, mut good: f64, mut bad: f64) {
    let broken = |number: f64| found(&drive(number)).of(key).unwrap().broken();
    assert!(!broken(good) && broken(bad), "{key}");
    while ((bad - good) / good).abs() > 1e-4 {
        let middle = 0.5 * (good + bad);
        if broken(middle) { bad = middle } else { good = middle }
    }
    let by_a_hair = found(&drive(good));
    assert!(by_a_hair.broken().is_empty(), "{key} at {good}: {:?}", by_a_hair.broken());
    assert_eq!(found(&drive(bad)).broken(), [key], "at {bad}");
}

/// An arc whose voltage does not grow with the gap: on the battery's voltage it stays.
#[test]
fn exact_arcs() {
    let drive = |volts: f64| {
        let mut drive = at(&[], &[("contactor.contacts.arc_voltage", volts)]);
        drive.contactor.contacts.arc_voltage_per_metre = "0 V".parse().unwrap();
        drive.contactor.rest = RestPosition::Open;
        drive
    };
    edge("arcs", drive, 14.0, 3.0);
}

/// A coil hotter than its limit says, and a drop-out close below the pull-in: it lets go in the surge.
#[test]
fn exact_chatter() {
    let drive = |celsius: f64| {
        at(
            &[("limits.hot_coil_c", "20 degC"), ("contactor.drop_out_voltage", "7.7 V")],
            &[("contactor.coil.temperature_c", celsius)],
        )
    };
    edge("chatter", drive, 100.0, 140.0);
}

/// Each datum left out is "not checked", which never counts as met.
#[test]
fn exact_what_is_missing_is_not_checked() {
    use stallpoint::report::Verdict::NotChecked;
    let missing = [
        ("limits.circuit_class", "run_drop"),
        ("limits.contactor_on_time", "contactor_duty"),
        ("limits.isolator_making", "isolator_making"),
        ("limits.isolator_carrying", "isolator_carrying"),
        ("limits.isolator_breaking", "isolator_breaking"),
        ("battery.cold_cranking_amperes", "interrupting_by_battery"),
        ("breaker.interrupting_capacity", "interrupting"),
        ("contactor.making_current", "making"),
        ("contactor.duty", "contactor_duty"),
        ("limits.time_to_speed", "time_to_speed"),
        ("motor.heat_capacity", "stall_protection"),
    ];
    let evidence = stallpoint::studies::sizing::Evidence::gather(&with(&[]), &SizingOptions::default()).unwrap();
    for (path, key) in missing {
        let mut drive = with(&[]).to_value().unwrap();
        let (table, name) = path.split_once('.').unwrap();
        drive[table].as_object_mut().unwrap().remove(name).unwrap();
        let drive = Drive::from_value(drive).unwrap();
        let found = Assessment::by(&drive, &evidence, &SizingOptions::default());
        assert_eq!(found.of(key).unwrap().verdict, NotChecked, "{path}: {:?}", found.of(key));
        assert!(!found.holds() && found.broken().is_empty(), "{path}: {:?}", found.broken());
    }
}
