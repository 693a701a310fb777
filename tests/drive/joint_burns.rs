//! A stalled motor behind a corroded ground never trips its breaker and burns the joint.

use stallpoint::drive::{Direction, Drive, Fault, Trips};
use stallpoint::parts::JointHeat;

use super::support::{boat_lift, events, start};

/// The boat lift with a corroded ground joint whose lug and stud heat.
fn corroded(ohms: &str) -> Drive {
    let mut drive = boat_lift().with_fault(&Fault::joint("ground_stud_joint", ohms).unwrap()).unwrap();
    drive.joints.get_mut("ground_stud_joint").unwrap().heat = Some(JointHeat::default());
    drive
}

#[test]
fn regress_a_stall_behind_a_corroded_ground_burns_the_joint_before_any_breaker() {
    let drive = corroded("0.13 ohm");
    let run = start(&drive, Direction::Forward, 30.0);
    assert!(run.surge.stalled);
    // Less than the rating, so that not even the fastest device ever trips.
    assert_eq!((run.surge.trips, run.surge.tripped_at), (Trips::No, None));
    let at = |t: f64| {
        let now = run.sample(&[t]).unwrap();
        let (amperes, volts) = (
            now.current("ground_stud_joint").unwrap()[0],
            now.voltage("ground_stud").unwrap()[0] - now.voltage("ground_stud_lug").unwrap()[0],
        );
        (amperes, volts * amperes, now.state("ground_stud_joint", "temperature").unwrap()[0])
    };
    // Joule's law with a resistance that grew with the temperature; samples are interpolated, each on its own, within the
    // run's rtol of 1e-4.
    for t in [1.0, 5.0, 30.0] {
        let (amperes, watts, temperature) = at(t);
        let exact = amperes * amperes * 0.13 * (1.0 + 0.00393 * (temperature - 20.0));
        assert!((watts / exact - 1.0).abs() < 1e-4, "{watts} against {exact}");
    }
    // What the run gave: 446 W at 1 s, 105 °C after 4 s, 496 °C after 30 s at 27 A.
    let near = |value: f64, golden: f64| assert!((value / golden - 1.0).abs() < 0.01, "{value} against {golden}");
    near(at(1.0).1, 446.0);
    near(at(30.0).0, 26.6);
    near(at(30.0).2, 496.0);
    let limit = events(&run, "ground_stud_joint", "temperature limit reached");
    assert_eq!(limit.len(), 1);
    near(limit[0].time, 3.98);
}

/// The same joint sound: its lug stays cool.
#[test]
fn prop_a_sound_joint_stays_cool() {
    let run = start(&corroded("0.1 mohm"), Direction::Forward, 3.0);
    assert!(!run.surge.stalled);
    let temperature = run.sample(&[3.0]).unwrap().state("ground_stud_joint", "temperature").unwrap()[0];
    assert!(temperature > 20.0 && temperature < 21.0, "{temperature}");
}
