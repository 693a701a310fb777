//! One row per case, always.

use stallpoint::circuit::{Ending, TransientOptions};
use stallpoint::studies::sweep::{Axis, Coordinates, SweepOptions};

use super::support::{held, swept};

#[test]
fn prop_a_failed_case_keeps_its_row_and_its_reason() {
    let good = swept(&[Axis::new("supply_cable.length", ["7 m", "14 m"])], &["peak_current", "stalled"], &held(0.2));
    let table =
        swept(&[Axis::new("supply_cable.length", ["7 m", "-1 m", "14 m"])], &["peak_current", "stalled"], &held(0.2));
    let reason = "part \"supply_cable\" (cable): `length` is -1 m, but must be above 0 m".to_string();
    assert_eq!(table.failures, [None, Some(reason), None]);
    assert_eq!(table.ending, Ending::Finished);
    assert_eq!(table.axes[0].coordinates(), &Coordinates::Numbers(vec![7.0, -1.0, 14.0]));
    for name in ["peak_current", "stalled"] {
        let values = table.values(name).unwrap();
        assert!(values[1].is_nan());
        assert_eq!([values[0], values[2]], good.values(name).unwrap());
    }
}

/// Each value fits the drive on its own; together the drop-out voltage is above the pull-in voltage.
#[test]
fn prop_a_combination_that_does_not_fit_fails_alone() {
    let axes = [
        Axis::new("contactor.pull_in_voltage", ["6 V", "8 V"]),
        Axis::new("contactor.drop_out_voltage", ["4 V", "7 V"]),
    ];
    let table = swept(&axes, &["peak_current"], &held(0.1));
    let failed: Vec<bool> = table.failures.iter().map(Option::is_some).collect();
    assert_eq!(failed, [false, true, false, false]);
    let reason = table.failures[1].as_deref().unwrap();
    assert!(reason.starts_with("part \"contactor\" (reversing contactor): `drop_out_voltage` is 7 V"), "{reason}");
}

#[test]
fn prop_a_run_that_ends_at_the_step_limit_is_a_failed_case() {
    let transient = TransientOptions { max_steps: 20, energy: false, ..TransientOptions::default() };
    let options = SweepOptions { transient, ..held(0.3) };
    let table = swept(&[Axis::new("supply_cable.length", [7.0])], &["peak_current"], &options);
    let reason = table.failures[0].as_deref().unwrap();
    assert!(reason.starts_with("the run reached `max_steps` (20) at 0."), "{reason}");
    assert!(reason.ends_with(" s; allow more steps or hold for a shorter time"), "{reason}");
    assert!(table.values("peak_current").unwrap()[0].is_nan());
}

#[test]
fn prop_a_case_that_cannot_be_solved_says_why() {
    let options = SweepOptions { transient: TransientOptions::rtol(-1.0), ..held(0.3) };
    let table = swept(&[Axis::new("supply_cable.length", [7.0, 8.0])], &["peak_current"], &options);
    assert!(table.failures.iter().all(|reason| reason.as_deref().unwrap().contains("rtol")), "{:?}", table.failures);
}
