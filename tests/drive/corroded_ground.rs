//! The corroded ground: full volts at rest, a stalled motor, no trip, a hot joint; the other coil return chatters.

use stallpoint::Error;
use stallpoint::circuit::OperatingOptions;
use stallpoint::drive::{Control, Direction, Fault};
use stallpoint::parts::Voltmeter;

use super::support::{boat_lift, events, ground_return, start};

fn corroded() -> Fault {
    Fault::joint("ground_stud_joint", "0.13 ohm").unwrap()
}

#[test]
fn exact_the_meter_reads_full_voltage_at_rest() {
    let faulty = boat_lift().with_fault(&corroded()).unwrap();
    let mut circuit = faulty.circuit(&Control::new()).unwrap();
    circuit.add("meter", Voltmeter::default(), [("plus", "supply_stud"), ("minus", "battery_negative")]).unwrap();
    let reading = circuit.operating_point().unwrap().state("meter", "reading").unwrap();
    assert!((reading / faulty.battery.open_circuit_voltage() - 1.0).abs() < 1e-5, "{reading}");
}

#[test]
fn exact_it_stalls_below_the_running_rating_and_nothing_trips() {
    let faulty = boat_lift().with_fault(&corroded()).unwrap();
    let run = start(&faulty, Direction::Forward, 3.0);
    assert!(run.surge.stalled && run.surge.time_to_speed.is_none());
    let end = run.sample(&[3.0]).unwrap();
    let current = end.current("breaker").unwrap()[0];
    // Less even than the sound drive takes to run.
    let sound = start(&boat_lift(), Direction::Forward, 3.0).sample(&[3.0]).unwrap().current("breaker").unwrap()[0];
    assert!(current < sound, "{current} against {sound}");
    // Less than the breaker's rating, and than what its fastest device takes for an overload: it never trips.
    assert!(current < faulty.breaker.as_ref().unwrap().rated_current.si(), "{current}");
    assert_eq!(faulty.breaker.as_ref().unwrap().trip_band.time(0.0, current / 80.0), None);
    assert_eq!((run.surge.trips, run.surge.tripped_at), (stallpoint::drive::Trips::No, None));
    // The joint burns hundreds of watts: by Joule's law, and in the energy account.
    let joint = end.current("ground_stud_joint").unwrap()[0];
    let heat = joint * joint * 0.13;
    assert!(heat > 300.0, "{heat} W");
    let booked = run.energy.part("ground_stud_joint").unwrap().dissipated;
    assert!(booked > 0.9 * heat * 2.9 && booked < 1.1 * heat * 3.0, "{booked} J of {heat} W");
}

/// The contactor lets go above the resistance that root finding gives, and not below: by transient.
#[test]
fn exact_chatter_appears_above_the_threshold_and_vanishes_below_it() {
    let drive = ground_return();
    let edge = drive.stall_threshold("ground_stud_joint", Direction::Forward).unwrap().drops_out_at.unwrap();
    for factor in [0.8, 0.95, 0.99, 1.01, 1.05, 1.2] {
        let faulty = drive.with_fault(&Fault::joint("ground_stud_joint", factor * edge).unwrap()).unwrap();
        let dropouts = start(&faulty, Direction::Forward, 0.5).surge.dropouts;
        println!("{:.2} mohm, {factor} of the edge: {dropouts} drop-outs", 1e3 * factor * edge);
        assert!(if factor < 1.0 { dropouts == 0 } else { dropouts >= 5 }, "{factor}: {dropouts}");
    }
}

#[test]
fn exact_the_other_coil_return_chatters() {
    let faulty = ground_return().with_fault(&corroded()).unwrap();
    let run = start(&faulty, Direction::Forward, 1.0);
    let pulls = events(&run, "contactor", "pulls in").len();
    assert!(run.surge.dropouts >= 5 && pulls > run.surge.dropouts - 1, "{} drop-outs", run.surge.dropouts);
    let error = faulty.operating_point(Some(Direction::Forward), &OperatingOptions::default()).unwrap_err();
    assert!(matches!(&error, Error::NoEquilibrium { parts } if parts.contains("\"contactor\"")), "{error}");
    assert!(error.to_string().contains("(as when a contactor chatters"), "{error}");
    // A sound ground, and the contactor holds.
    assert_eq!(start(&ground_return(), Direction::Forward, 1.0).surge.dropouts, 0);
}
