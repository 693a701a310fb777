//! The answer does not depend on the number of threads.

use stallpoint::studies::sweep::{Axis, SweepOptions};

use super::support::{bits, held, swept};

#[test]
fn prop_same_bits_for_one_and_more_threads() {
    let axes = [
        Axis::together(["supply_cable.length", "ground_cable.length"], [3.0, -1.0, 12.0]),
        Axis::new("ground_stud_joint.resistance", ["0.2 mohm", "40 mohm", "0.2 ohm"]),
    ];
    let names = ["peak_current", "time_of_peak", "time_to_speed", "surge_i2t", "stalled", "lowest_coil_voltage"];
    let with = |threads| swept(&axes, &names, &SweepOptions { threads, ..held(0.3) });
    let one = with(Some(1));
    for other in [with(Some(2)), with(Some(5)), with(None)] {
        assert_eq!((&other.failures, &other.axes), (&one.failures, &one.axes));
        for name in names {
            assert_eq!(bits(other.values(name).unwrap()), bits(one.values(name).unwrap()), "{name}");
        }
    }
    assert_eq!(one.failures.iter().filter(|reason| reason.is_some()).count(), 3);
}
