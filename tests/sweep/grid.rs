//! Order and shape of the grid.

use stallpoint::circuit::{Ending, Flow};
use stallpoint::drive::Start;
use stallpoint::studies::sweep::{Axis, Coordinates, Measure, sweep};

use super::support::{boat_lift, held, swept};

/// The first value of a state: what the case was given. Making the start consistent moves it by some 1e-13 of itself,
/// so it is rounded to nine digits behind the point.
fn first(part: &'static str, state: &'static str) -> impl Fn(&Start) -> f64 + Send + Sync {
    move |start| (start.run.state(part, state).unwrap()[0] * 1e9).round() / 1e9
}

#[test]
fn exact_every_combination_once_with_the_first_axis_slowest() {
    let charges = [0.5, 0.75, 0.625];
    let temperatures = [-10.0, 20.0, 35.5, 60.0];
    let axes = [Axis::new("battery.state_of_charge", charges), Axis::new("motor.winding_temperature_c", temperatures)];
    let own = [
        Measure::own("charge", "", first("battery", "state_of_charge")),
        Measure::own("temperature", "degC", first("motor", "winding_temperature")),
    ];
    let table = sweep(&boat_lift(), &axes, &own, &held(0.02), &mut |_| Flow::Continue).unwrap();

    assert_eq!((table.shape(), table.len(), table.ending), (vec![3, 4], 12, Ending::Finished));
    let expected: Vec<(f64, f64)> = charges.iter().flat_map(|&c| temperatures.map(|t| (c, t))).collect();
    let found =
        table.values("charge").unwrap().iter().copied().zip(table.values("temperature").unwrap().iter().copied());
    assert_eq!(found.collect::<Vec<_>>(), expected);

    for row in 0..table.len() {
        let places = table.places(row);
        assert_eq!(table.row(&places), Some(row));
        assert_eq!((charges[places[0]], temperatures[places[1]]), expected[row]);
    }
    assert_eq!((table.row(&[3, 0]), table.row(&[0]), table.row(&[0, 4])), (None, None, None));
    assert_eq!(table.axes[0].coordinates(), &Coordinates::Numbers(charges.to_vec()));
    assert_eq!(table.axes[1].unit(), "degC");
}

#[test]
fn exact_zipped_keys_change_together() {
    let columns = [
        ("battery.state_of_charge", vec![0.5.into(), 0.75.into()]),
        ("motor.winding_temperature_c", vec!["20 degC".into(), "50 degF".into()]),
    ];
    let own = [
        Measure::own("charge", "", first("battery", "state_of_charge")),
        Measure::own("temperature", "degC", first("motor", "winding_temperature")),
    ];
    let table = sweep(&boat_lift(), &[Axis::zipped(columns)], &own, &held(0.02), &mut |_| Flow::Continue).unwrap();
    assert_eq!(table.shape(), [2]);
    assert_eq!(table.values("charge").unwrap(), [0.5, 0.75]);
    assert_eq!(table.values("temperature").unwrap(), [20.0, 10.0]); // 50 °F = 10 °C
    assert_eq!(table.axes[0].keys[1].coordinates, Coordinates::Numbers(vec![20.0, 10.0]));
}

#[test]
fn prop_a_row_is_the_start_of_the_changed_drive() {
    let axes = [
        Axis::together(["supply_cable.length", "ground_cable.length"], ["4 m", "12 m"]),
        Axis::new("breaker_in_joint.resistance", ["5 mohm"]), // a joint that the file does not mention
    ];
    let names = ["peak_current", "time_of_peak", "surge_i2t", "lowest_coil_voltage"];
    let table = swept(&axes, &names, &held(0.3));
    for (row, length) in ["4 m", "12 m"].into_iter().enumerate() {
        let values = [
            ("supply_cable.length", length),
            ("ground_cable.length", length),
            ("breaker_in_joint.resistance", "5 mohm"),
        ];
        let drive = boat_lift().with_values(values).unwrap();
        let mut options = stallpoint::drive::StartOptions::hold(0.3).unwrap();
        options.transient.energy = false;
        let surge = drive.start(stallpoint::drive::Direction::Forward, &options).unwrap().surge;
        let expected = [surge.peak_current, surge.time_of_peak, surge.surge_i2t, surge.lowest_coil_voltage];
        assert_eq!(names.map(|name| table.values(name).unwrap()[row]), expected);
    }
}
