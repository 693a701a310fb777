//! Common practice, no source.

use stallpoint::drive::{Direction, Trips};

use super::support::{boat_lift, start};

/// Common practice, no source: on a 12 V reversing drive an 80 A breaker carries a running load just under its rating and
/// does not trip on a brief start-up spike of about 125 A; a contactor rated for 80 A running is expected to make about 125 A.
#[test]
fn val_an_80_a_breaker_passes_a_brief_spike_of_125_a() {
    let drive = boat_lift()
        .with_values([
            ("motor.resistance", "60 mohm"),
            ("motor.inertia", "0.0004 kg m2"),
            ("load.0.running", "3.25 N m"),
            ("load.0.breakaway", "3.5 N m"),
            ("load.0.inertia", "0.0001 kg m2"),
            ("contactor.carrying_current", "80 A"),
            ("contactor.making_current", "140 A"),
        ])
        .unwrap();
    let run = start(&drive, Direction::Forward, 3.0);
    let running = run.sample(&[3.0]).unwrap().current("breaker").unwrap()[0];
    assert!((72.0..80.0).contains(&running), "running {running} A");
    assert!((118.0..132.0).contains(&run.surge.peak_current), "spike {} A", run.surge.peak_current);
    assert_eq!(run.surge.trips, Trips::No);
    assert!(run.surge.peak_current < drive.contactor.making_current.unwrap().si());
    assert!(running < drive.contactor.carrying_current.unwrap().si());
}

#[test]
fn exact_a_load_that_overpowers_the_motor_is_no_start() {
    // Gravity beyond the stall torque drives the shaft backward though the control calls for forward.
    let drive = boat_lift().with_values([("load.1.torque", "20 N m")]).unwrap();
    let run = start(&drive, Direction::Forward, 1.0);
    assert!(run.state("motor", "speed").unwrap()[run.len() - 1] < 0.0);
    assert_eq!(run.surge.time_to_speed, None);
}
