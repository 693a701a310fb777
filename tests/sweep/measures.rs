//! The measures by name.

use stallpoint::drive::{Direction, StartOptions, Trips};
use stallpoint::studies::sweep::{Axis, Measure, MeasureKind};

use super::support::{boat_lift, held, swept};

#[test]
fn exact_trips_count_and_read_as_the_drive_says() {
    let MeasureKind::Word(words) = Measure::named("trips").unwrap().kind() else { panic!("trips is a word") };
    for (position, trips) in [Trips::No, Trips::May, Trips::Will].into_iter().enumerate() {
        assert_eq!((trips as usize, words[position]), (position, trips.to_string().as_str()));
    }
}

/// A start that trips, so that no optional figure is missing but the time to speed.
#[test]
fn exact_each_measure_is_its_field_of_the_surge() {
    let names: Vec<&str> = Measure::known().collect();
    let axis = Axis::new("breaker.rated_current", ["10 A", "80 A"]);
    let table = swept(&[axis], &names, &held(4.0));
    for (row, rated) in ["10 A", "80 A"].into_iter().enumerate() {
        let drive = boat_lift().with_values([("breaker.rated_current", rated)]).unwrap();
        let surge = drive.start(Direction::Forward, &StartOptions::hold(4.0).unwrap()).unwrap().surge;
        let expected = [
            surge.peak_current,
            surge.time_of_peak,
            surge.peak_motor_current,
            surge.time_to_speed.unwrap_or(f64::NAN),
            surge.surge_i2t,
            surge.lowest_stud_voltage,
            surge.lowest_coil_voltage,
            if surge.stalled { 1.0 } else { 0.0 },
            [Trips::No, Trips::May, Trips::Will].iter().position(|&trips| trips == surge.trips).unwrap() as f64,
            surge.tripped_at.unwrap_or(f64::NAN),
            surge.dropouts as f64,
        ];
        for (name, expected) in names.iter().zip(expected) {
            let found = table.values(name).unwrap()[row];
            assert!(found == expected || (found.is_nan() && expected.is_nan()), "{rated} {name}: {found} {expected}");
        }
    }
    let tripped = table.values("tripped_at").unwrap();
    assert!(tripped[0].is_finite() && tripped[1].is_nan());
    assert_eq!(table.column("trips").unwrap().kind.text(table.values("trips").unwrap()[0]), "will");
    assert_eq!(table.column("surge_i2t").unwrap().unit, "A2 s");
}
