//! What the surge study makes of a warm breaker with a magnetic element.

use stallpoint::drive::{BOAT_LIFT, Drive};
use stallpoint::parts::{Derating, LinearDerating, MagneticTrip, Reset};
use stallpoint::quantity::Temperature;
use stallpoint::studies::surge::surge_study;

#[test]
fn exact_derating_and_magnetic_element_count() {
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let line = LinearDerating { reference_c: Temperature::from_si(40.0), per_kelvin: -0.005 };
    drive.breaker.as_mut().unwrap().derating = Some(Derating::Linear(line));
    drive.breaker.as_mut().unwrap().ambient_c = Some(Temperature::from_si(60.0));
    drive.breaker.as_mut().unwrap().reset = Reset::Manual;
    drive.breaker.as_mut().unwrap().magnetic = Some(MagneticTrip::new(1.3, 20.0));
    let study = surge_study(&drive).unwrap();
    let check = study.checks.iter().find(|c| c.requirement == "The running current never trips the breaker").unwrap();
    // 80 A · 0.9 · 1.1, below the 104 A of the magnetic element.
    assert!((check.limit.unwrap() - 79.2).abs() < 1e-9, "{check:?}");
    // The start's peak is far above 104 A for longer than 8 ms: the fastest device of this kind opens.
    let fastest = study.directions[0].start.run.state("breaker", "trip_fraction_fastest").unwrap();
    assert!(fastest.iter().any(|fraction| *fraction >= 1.0));
}

#[test]
fn exact_a_trip_that_takes_the_control_with_it_is_no_chatter() {
    use stallpoint::drive::{ControlSupply, Direction, StartOptions};
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    drive.control.supply = ControlSupply::AfterBreaker;
    drive.breaker.as_mut().unwrap().reset = Reset::Manual;
    drive.breaker.as_mut().unwrap().rated_current = stallpoint::quantity::Current::from_si(15.0);
    let start = drive.start(Direction::Forward, &StartOptions::hold("10 s").unwrap()).unwrap();
    assert!(start.surge.tripped_at.is_some());
    // It does let go, after the trip, and that is not counted.
    assert!(start.run.events.iter().any(|event| event.part == "contactor" && event.what.contains("drops out")));
    assert_eq!(start.surge.dropouts, 0);
}
