//! What is refused before any case, in full.

use stallpoint::studies::sweep::{Axis, Measure, SweepOptions};

use super::support::{boat_lift, held, measures, refused, swept};

fn axes_refused(axes: &[Axis]) -> String {
    refused(axes, &measures(&["stalled"]), &held(0.1))
}

#[test]
fn exact_a_key_that_does_not_exist() {
    let metres = [1.0, 2.0];
    let unknown = axes_refused(&[Axis::new("supply_cable.lenght", metres)]);
    assert_eq!(
        unknown,
        "`supply_cable.lenght`: unknown field `lenght`, expected one of `cross_section`, `length`, `conductor`, \
         `strand_class`, `temperature_c`, `inductance_per_metre`, `insulation`, `ampacity`, `heats`, `ambient_c`, `limit_c`"
    );
    let table = axes_refused(&[Axis::new("supply_wire.length", metres)]);
    assert_eq!(table, "`supply_wire.length`: the drive has no table \"supply_wire\"");
    // The second key of a pair is named alone.
    let pair = axes_refused(&[Axis::together(["supply_cable.length", "earth_cable.length"], metres)]);
    assert_eq!(pair, "`earth_cable.length`: the drive has no table \"earth_cable\"");
    let joint = axes_refused(&[Axis::new("ground_joint.resistance", metres)]);
    assert_eq!(
        joint,
        "`ground_joint.resistance`: there is no joint \"ground_joint\"; known are battery_positive_joint, \
         isolator_in_joint, isolator_out_joint, breaker_in_joint, breaker_out_joint, supply_stud_joint, \
         motor_a_stud_joint, motor_a_joint, motor_b_joint, motor_b_stud_joint, ground_stud_joint, \
         battery_negative_joint, case_joint"
    );
    let in_table = axes_refused(&[Axis::new("joints.ground_joint.resistance", metres)]);
    assert_eq!(in_table.strip_prefix("`joints."), joint.strip_prefix("`"));
    let entry = axes_refused(&[Axis::new("load.2.torque", metres)]);
    assert_eq!(entry, "`load.2.torque`: there is no entry \"2\" in the list; it has 2, numbered from 0");
}

#[test]
fn exact_a_value_that_does_not_read_wherever_it_is_on_the_axis() {
    let unit = axes_refused(&[Axis::new("supply_cable.length", ["7 m", "8 V"])]);
    assert_eq!(unit, "`supply_cable.length`: \"8 V\" is a voltage; a length is expected, for example \"24 ft\"");
    let nan = axes_refused(&[Axis::new("supply_cable.length", [7.0, f64::NAN])]);
    assert_eq!(
        nan,
        "`supply_cable.length`: value 2 of the axis is not a finite number and no text; \
         give a number in SI or a text with a unit"
    );
}

#[test]
fn exact_axes_that_make_no_grid() {
    assert_eq!(axes_refused(&[]), "`axes` is empty, but must be at least one axis");
    let empty = axes_refused(&[Axis::new("supply_cable.length", Vec::<f64>::new())]);
    assert_eq!(empty, "`supply_cable.length`: the axis has no values; give at least one");
    let keyless = axes_refused(&[Axis::new("battery.state_of_charge", [0.5]), Axis::together([""; 0], [1.0])]);
    assert_eq!(keyless, "`axis 2` is without a key, but must be given at least one key of the drive");
    let columns = [
        ("supply_cable.length", vec![1.0.into(), 2.0.into()]),
        ("ground_cable.length", vec![1.0.into(), 2.0.into(), 3.0.into()]),
    ];
    assert_eq!(
        axes_refused(&[Axis::zipped(columns)]),
        "`ground_cable.length`: 3 values against 2 of `supply_cable.length` on the same axis; give both as many"
    );
    let length = || Axis::new("supply_cable.length", [1.0]);
    let twice = "`supply_cable.length`: `supply_cable.length` sweeps the same value; leave one of them out";
    assert_eq!(axes_refused(&[length(), length().named("again")]), twice);
    let names = "`axis name` is \"run\" twice, but must be different for each axis; name one otherwise";
    let other = Axis::new("ground_cable.length", [1.0]).named("run");
    assert_eq!(axes_refused(&[length().named("run"), other]), names);
    let long_name = Axis::new("joints.ground_stud_joint.resistance", [1.0]);
    assert_eq!(
        axes_refused(&[Axis::new("ground_stud_joint.resistance", [1.0]), long_name]),
        "`joints.ground_stud_joint.resistance`: `ground_stud_joint.resistance` sweeps the same value; \
         leave one of them out"
    );
}

#[test]
fn exact_measures_that_are_not() {
    assert_eq!(
        Measure::list(["peak_current", "peak"]).unwrap_err().to_string(),
        "`measure` is \"peak\", but must be one of peak_current, time_of_peak, peak_motor_current, time_to_speed, \
         surge_i2t, lowest_stud_voltage, lowest_coil_voltage, stalled, trips, tripped_at, dropouts"
    );
    let axes = [Axis::new("supply_cable.length", [1.0])];
    assert_eq!(refused(&axes, &[], &held(0.1)), "`measures` is empty, but must be at least one measure");
    assert_eq!(
        refused(&axes, &measures(&["stalled", "stalled"]), &held(0.1)),
        "`measures` is \"stalled\" twice, but must be different from each other"
    );
    assert_eq!(
        swept(&axes, &["stalled", "trips"], &held(0.001)).values("dropouts").unwrap_err().to_string(),
        "`measure` is \"dropouts\", but must be one that was swept: stalled, trips"
    );
}

#[test]
fn exact_options_that_cannot_be() {
    let axes = [Axis::new("supply_cable.length", [1.0])];
    let options = |hold, threads| SweepOptions { threads, ..held(hold) };
    let text = |hold, threads| refused(&axes, &measures(&["stalled"]), &options(hold, threads));
    assert_eq!(text(0.0, None), "`hold` is 0 s, but must be above 0 s");
    assert_eq!(text(f64::NAN, None), "`hold` is NaN s, but must be above 0 s");
    assert_eq!(
        text(1.0, Some(0)),
        "`threads` is 0, but must be at least 1, or left out for as many as the machine has"
    );
}

#[test]
fn exact_a_drive_that_cannot_be() {
    let mut drive = boat_lift();
    drive.schema = 2;
    let axes = [Axis::new("supply_cable.length", [1.0])];
    let watcher = &mut |_| stallpoint::circuit::Flow::Continue;
    let error = stallpoint::studies::sweep::sweep(&drive, &axes, &measures(&["stalled"]), &held(0.1), watcher);
    let text = "`schema` is 2, but must be 1, the version that this library reads";
    assert_eq!(error.unwrap_err().to_string(), text);
}
