//! The contract's sweep (product.md, section 5) on a coarser grid.

use stallpoint::studies::sweep::{Axis, Coordinates, SweepOptions};

use super::support::swept;

fn linspace(from: f64, to: f64, count: usize) -> Vec<f64> {
    (0..count).map(|step| from + (to - from) * step as f64 / (count - 1) as f64).collect()
}

#[test]
fn prop_inrush_falls_with_cable_length_and_with_corrosion() {
    let metres = linspace(1.0, 20.0, 5);
    let ohms: Vec<f64> = linspace(-4.0, -1.0, 4).into_iter().map(|exponent| 10f64.powf(exponent)).collect();
    let axes = [
        Axis::together(["supply_cable.length", "ground_cable.length"], metres.clone()),
        Axis::new("ground_stud_joint.resistance", ohms.clone()),
    ];
    let options = SweepOptions { hold: 1.0, ..SweepOptions::default() };
    let table = swept(&axes, &["peak_current", "time_to_speed", "stalled", "trips"], &options);

    assert_eq!((table.shape(), table.failures.iter().flatten().count()), (vec![5, 4], 0));
    assert_eq!(table.axes[0].name, "supply_cable.length, ground_cable.length");
    assert_eq!((table.axes[0].coordinates(), table.axes[0].unit()), (&Coordinates::Numbers(metres), "m"));
    assert_eq!((table.axes[1].coordinates(), table.axes[1].unit()), (&Coordinates::Numbers(ohms), "ohm"));

    let at = |name: &str, length, joint| table.values(name).unwrap()[table.row(&[length, joint]).unwrap()];
    for length in 0..5 {
        for joint in 0..4 {
            if length > 0 {
                assert!(at("peak_current", length, joint) < at("peak_current", length - 1, joint));
            }
            if joint > 0 {
                assert!(at("peak_current", length, joint) < at("peak_current", length, joint - 1));
            }
            // Stalled cases, and only those, have no time to speed here: the hold is long enough for the others.
            assert_eq!(at("stalled", length, joint) == 1.0, at("time_to_speed", length, joint).is_nan());
        }
    }
    // Once stalled, a longer run or a worse joint stays stalled.
    assert_eq!((at("stalled", 0, 0), at("stalled", 4, 3)), (0.0, 1.0));
    for length in 1..5 {
        assert!(at("stalled", length, 3) >= at("stalled", length - 1, 3));
    }
}
