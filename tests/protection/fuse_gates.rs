//! Fuses, simulated at the multiples of their standards' gates.

use crate::support::{number, opens_in, reference};
use stallpoint::parts::Fuse;
use stallpoint::quantity::Fraction;
use stallpoint::tables::Status;
use stallpoint::tables::trip_gates::{FuseClass, fuse_typicals, road_vehicle_fuse};

fn class(name: &str) -> FuseClass {
    FuseClass::ALL.into_iter().find(|class| class.name() == name).unwrap_or_else(|| panic!("{name}"))
}

fn at(class: FuseClass, rated: f64, position: f64) -> Fuse {
    Fuse { band_position: Fraction::from_si(position), ..Fuse::of_class(class, rated).unwrap() }
}

#[test]
fn val_every_verified_gate_holds_for_the_fastest_and_the_slowest() {
    let (mut held, mut opened) = (0, 0);
    for row in reference("fuse_gates.csv", 22) {
        if !row["status"].starts_with("verified") {
            continue; // never a limit
        }
        let (class, multiple) = (class(&row["class"]), number(&row, "percent").unwrap() / 100.0);
        let (low, high) = row["rating_range_A"].split_once('-').unwrap();
        for rated in [low, high].map(|rating| rating.parse::<f64>().unwrap()) {
            let limits = (number(&row, "t_min_s"), number(&row, "t_max_s"));
            let own = road_vehicle_fuse(class, rated).into_iter();
            let own: Vec<_> =
                own.filter(|g| g.multiple == multiple && (g.holds_for, g.trips_within) == limits).collect();
            assert!(own.len() == 1 && own[0].status == Status::Read, "{row:?} {own:?}");
            if let Some(least) = number(&row, "t_min_s") {
                assert_eq!(opens_in(multiple * rated, at(class, rated, 0.0), least), None, "{rated} A {row:?}");
                held += 1;
            }
            if let Some(most) = number(&row, "t_max_s") {
                let time = opens_in(multiple * rated, at(class, rated, 1.0), 2.0 * most).unwrap_or(f64::INFINITY);
                assert!(time <= most, "{rated} A {row:?}: {time}");
                opened += 1;
            }
        }
    }
    assert_eq!((held, opened), (2 * 15, 2 * 12));
}

#[test]
fn val_melting_i2t_of_data_sheets_lies_in_the_band_of_the_gates() {
    // Data sheets' values are not limits, but the gates' constant I²t beyond their last row must be of their size.
    let mut checked = 0;
    for class in [FuseClass::BladeMini, FuseClass::BladeAto, FuseClass::BladeMaxi] {
        for typical in fuse_typicals(class) {
            let fuse = Fuse::of_class(class, typical.rating).unwrap().at_melting_i2t(typical.melting_i2t).unwrap();
            let current = 20.0 * typical.rating;
            let time = opens_in(current, fuse, 10.0).unwrap();
            let i2t = current * current * time;
            assert!((i2t - typical.melting_i2t).abs() < 1e-5 * i2t, "{typical:?}: {i2t}");
            checked += 1;
        }
    }
    assert_eq!(checked, 6);
}

#[test]
fn val_typical_rows_are_those_of_the_reference() {
    let rows = reference("fuse_typicals.csv", 6);
    for row in &rows {
        let found = fuse_typicals(class(&format!("blade_{}", row["class"])));
        let rating = number(row, "rating_A").unwrap();
        let typical = found.iter().find(|typical| typical.rating == rating).unwrap();
        assert!((1e3 * typical.cold_resistance - number(row, "cold_resistance_mohm").unwrap()).abs() < 1e-12);
        assert_eq!(Some(typical.melting_i2t), number(row, "melting_I2t_A2s"));
        assert_eq!(typical.voltage_drop.map(|volts| (1e3 * volts).round()), number(row, "voltage_drop_mV"));
    }
}
