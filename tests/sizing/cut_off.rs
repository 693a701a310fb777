//! The cut-off of a battery's management: one limit, from the battery or from the limits.

use stallpoint::drive::Drive;
use stallpoint::parts::CutOff;
use stallpoint::studies::sizing::{SizingOptions, assess};

use super::hair::Trial;
use super::support::with;

fn pack(over_current: f64, delay: f64, under_voltage: f64, under_delay: f64) -> Drive {
    let mut drive = with(&[]);
    let mut cut_off = CutOff::new(over_current, under_voltage).unwrap();
    cut_off.over_current_delay = stallpoint::quantity::Time::from_si(delay);
    cut_off.under_voltage_delay = stallpoint::quantity::Time::from_si(under_delay);
    drive.battery.cut_off = Some(cut_off);
    drive
}

#[test]
fn exact_the_batterys_own_cut_off_is_the_limit() {
    Trial::rating("battery_over_current", &|amperes| pack(amperes, 0.0, 5.0, 1.0), 250.0, 160.0).hangs_by_a_hair();
    Trial::rating("battery_over_current", &|delay| pack(100.0, delay, 5.0, 1.0), 1.0, 0.05).hangs_by_a_hair();
    Trial::rating("battery_under_voltage", &|volts| pack(900.0, 0.1, volts, 0.0), 11.0, 12.0).hangs_by_a_hair();
    // It runs on until the voltage is 1 % above the level, 12.32 V: to the end of the hold.
    Trial::rating("battery_under_voltage", &|delay| pack(900.0, 0.1, 12.2, delay), 4.0, 0.05).hangs_by_a_hair();
}

/// Said in the limits or by the battery, with the same delay: the same check but for where it stands.
#[test]
fn exact_both_places_say_the_same() {
    let limits = with(&[
        ("limits.battery_over_current", "100 A"),
        ("limits.battery_over_current_delay", "0.1 s"),
        ("limits.battery_under_voltage", "11 V"),
    ]);
    let own = pack(100.0, 0.1, 11.0, 0.0);
    let [limits, own] = [limits, own].map(|drive| assess(&drive, &SizingOptions::default()).unwrap());
    for key in ["battery_over_current", "battery_under_voltage"] {
        let (one, other) = (limits.of(key).unwrap(), own.of(key).unwrap());
        assert!(one.value.is_some() && one.limit.is_some(), "{one:?}");
        assert_eq!((one.value, one.limit, one.verdict), (other.value, other.limit, other.verdict), "{key}");
        assert!(one.basis.starts_with("limits.") && other.basis.starts_with("battery.cut_off."), "{key}");
    }
}

/// Two sources of one limit are refused.
#[test]
fn exact_two_sources_are_refused() {
    for limit in ["battery_over_current", "battery_over_current_delay", "battery_under_voltage"] {
        let mut drive = pack(100.0, 0.1, 11.0, 0.0);
        match limit {
            "battery_over_current" => drive.limits.battery_over_current = Some("90 A".parse().unwrap()),
            "battery_over_current_delay" => drive.limits.battery_over_current_delay = Some("1 s".parse().unwrap()),
            _ => drive.limits.battery_under_voltage = Some("10 V".parse().unwrap()),
        }
        let error = drive.check().unwrap_err().to_string();
        assert!(error.contains(limit) && error.contains("`battery.cut_off`"), "{error}");
    }
}

#[test]
fn exact_a_delay_without_its_current_is_refused() {
    let mut drive = with(&[]);
    drive.limits.battery_over_current_delay = Some("0.1 s".parse().unwrap());
    let error = drive.check().unwrap_err().to_string();
    assert!(error.contains("`battery_over_current_delay` is given without `battery_over_current`"), "{error}");
}

/// What an overhauling load drives back into the battery is no discharge, however large.
#[test]
fn exact_charging_is_no_over_current() {
    let load = serde_json::json!([{ "kind": "gravity_torque", "torque": "12 N m" }]); // invented; lowered in reverse
    let drive = with(&[]).with_values([("load", load)]).unwrap();
    let evidence = stallpoint::studies::sizing::Evidence::gather(&drive, &SizingOptions::default()).unwrap();
    let supply = &evidence.facts.directions[1].supply;
    assert!(supply.charging.value > 50.0, "{:?}", supply.charging);
    let (_, lowering) = supply.currents.iter().find(|(what, _)| what == "start reverse").unwrap();
    assert_eq!(lowering.at(lowering.length()), 0.0, "charged to the end of the hold");
}
