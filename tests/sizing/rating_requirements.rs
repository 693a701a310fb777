//! Each requirement whose edge is found on a rating: the runs stay as they are.

use stallpoint::parts::TripBand;
use stallpoint::studies::sizing::{Jogs, SizingOptions};

use super::hair::Trial;
use super::support::{at, with};

fn on(key: &str, number: &str, values: &[(&str, &str)], good: f64, bad: f64) {
    Trial::rating(key, &|x| at(values, &[(number, x)]), good, bad).hangs_by_a_hair();
}

/// The drive as it is meets everything, so that whatever fails below fails by what was changed.
#[test]
fn exact_the_complete_drive_meets_every_requirement() {
    let found = stallpoint::studies::sizing::assess(&with(&[]), &SizingOptions::default()).unwrap();
    assert!(found.holds(), "{:#?}", found.worst().iter().filter(|check| !check.met()).collect::<Vec<_>>());
    assert_eq!(found.worst().len(), 33);
}

#[test]
fn exact_contact_ratings() {
    on("making", "contactor.making_current", &[], 250.0, 160.0);
    on("carrying", "contactor.carrying_current", &[], 100.0, 55.0);
    on("breaking", "contactor.breaking_current", &[], 180.0, 165.0);
    // A light load runs fast: braking it makes more than the surge, where it has stopped before it is turned round.
    let light = [("load.0.running", "0.4 N m"), ("load.0.breakaway", "0.5 N m"), ("load.1.torque", "0.1 N m")];
    let mut options = SizingOptions::default();
    options.surge.pause = 1.0;
    let drive = |x| at(&light, &[("contactor.making_current", x)]);
    Trial { options, ..Trial::rating("rest_making", &drive, 400.0, 180.0) }.hangs_by_a_hair();
}

#[test]
fn exact_isolator_ratings() {
    on("isolator_making", "limits.isolator_making", &[], 250.0, 160.0);
    on("isolator_carrying", "limits.isolator_carrying", &[], 100.0, 55.0);
    on("isolator_breaking", "limits.isolator_breaking", &[], 200.0, 165.0);
}

#[test]
fn exact_breaker_and_cables() {
    on("ampacity", "breaker.rated_current", &[], 80.0, 88.0);
    on("running_trip", "breaker.rated_current", &[], 80.0, 55.0);
    let small = [("battery.cold_cranking_amperes", "400 A")];
    on("interrupting", "breaker.interrupting_capacity", &small, 2000.0, 1550.0);
    on("interrupting_by_battery", "breaker.interrupting_capacity", &[], 5000.0, 2000.0);
}

#[test]
fn exact_hold_and_duty() {
    on("hold", "contactor.highest_drop_out_voltage", &[], 6.0, 10.0);
    on("stall_protection", "limits.longest_hold", &[], 15.0, 25.0);
    on("contactor_withstand", "limits.contactor_withstand_current", &[], 1500.0, 500.0);
    on("contactor_duty", "limits.longest_hold", &[("limits.contactor_on_time", "16 s")], 15.0, 17.0);
}

#[test]
fn exact_battery_and_magnets() {
    on("battery_under_voltage", "limits.battery_under_voltage", &[], 11.0, 12.0);
    on("battery_over_current", "limits.battery_over_current", &[], 250.0, 160.0);
    let delay = [("limits.battery_over_current", "100 A")];
    on("battery_over_current", "limits.battery_over_current_delay", &delay, 1.0, 0.05);
    on("demagnetisation", "limits.demagnetisation_current", &[], 250.0, 160.0);
    // Little friction and much weight: lowering, the load drives the motor beyond the speed at which it takes current.
    let heavy = [
        ("load.0.running", "0.1 N m"),
        ("load.0.breakaway", "0.2 N m"),
        ("load.1.torque", "2.4 N m"),
        ("contactor.making_current", "600 A"),
    ];
    on("regeneration", "limits.charging_current", &heavy, 120.0, 5.0);
}

const FASTEST: [[f64; 2]; 5] = [[1.1, 900.0], [1.35, 60.0], [2.0, 8.0], [3.0, 3.0], [6.0, 0.5]];
const SLOWEST: [[f64; 2]; 4] = [[1.35, 1800.0], [2.0, 60.0], [3.0, 18.0], [6.0, 2.5]];

fn with_band(band: TripBand) -> stallpoint::Drive {
    let mut drive = with(&[]);
    drive.breaker.as_mut().unwrap().trip_band = band;
    drive
}

/// The fastest edge made faster.
fn faster(factor: f64) -> stallpoint::Drive {
    with_band(TripBand::points(FASTEST.map(|[multiple, time]| [multiple, time / factor]), SLOWEST).unwrap())
}

#[test]
fn exact_small_overload() {
    let drive = |multiple: f64| {
        let mut slowest = SLOWEST;
        slowest[0][0] = multiple;
        with_band(TripBand::points(FASTEST, slowest).unwrap())
    };
    Trial::rating("small_overload", &drive, 1.4, 1.6).hangs_by_a_hair();
}

#[test]
fn exact_nuisance_trips() {
    // One jog is no more than a start; ten are.
    let one = Jogs { count: 1, ..Jogs::default() };
    let options = SizingOptions { jogs: one, ..SizingOptions::default() };
    Trial { options, ..Trial::rating("nuisance_trip", &faster, 100.0, 164.0) }.hangs_by_a_hair();
    Trial::rating("nuisance_trip_jogs", &faster, 20.0, 60.0).hangs_by_a_hair();
}

/// A thermal replica that the running current leaves nearly full.
#[test]
fn exact_nuisance_trip_of_a_warm_breaker() {
    let drive = |pick_up: f64| with_band(TripBand::thermal(pick_up, "20 s", 0.0).unwrap());
    Trial::rating("nuisance_trip_warm", &drive, 0.9, 0.7825).hangs_by_a_hair();
}
