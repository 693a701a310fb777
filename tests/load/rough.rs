//! Loads at coarse tolerances, through reversals and long contacts: the energy still adds up.

use crate::support::{events, no_motor};
use stallpoint::TransientOptions;
use stallpoint::drive::{BOAT_LIFT, Control, Drive, STAGE_LIFT};
use stallpoint::parts::load::{EndStop, GravityTorque, Hoist, Load};

/// The boat lift with its load described as a hoist on a poor gear, between stops.
fn between_stops() -> Drive {
    let mut drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let stops = EndStop {
        backward: Some("-20 rad".parse().unwrap()),
        damping: "0.02 N m s/rad".parse().unwrap(),
        ..EndStop::new("60 rad", "40 N m/rad").unwrap()
    };
    let hoist =
        Hoist { inertia: "0.0005 kg m2".parse().unwrap(), ..Hoist::new("400 kg", "60 mm", 150.0, 0.42).unwrap() };
    drive.load = vec![Load::Hoist(hoist), Load::EndStop(stops)];
    drive
}

#[test]
fn prop_energy_adds_up_through_reversals() {
    let control = Control::new().forward(0.0, 1.0).unwrap().reverse(1.1, 2.4).unwrap().forward(2.4, 3.0).unwrap();
    let stage = Drive::from_toml_str(STAGE_LIFT).unwrap().with_values([("load.0.stroke", "120 cm3")]).unwrap();
    for (name, drive) in [("hoist between stops", between_stops()), ("stage lift", stage)] {
        for rtol in [1e-3, 1e-4, 1e-6] {
            let options = TransientOptions::rtol(rtol);
            let run = drive.run_with(&control, 3.5, &options, &mut |_| stallpoint::circuit::Flow::Continue).unwrap();
            let residual = run.energy.residual().abs() / run.energy.delivered();
            let load = events(&run, if name == "stage lift" { "motor.hydraulic_pump" } else { "motor.end_stop" });
            println!("{name} {rtol}: {residual:e}, {} steps, {} events", run.counters.steps, run.events.len());
            println!("  {:?}", load.iter().map(|event| event.1.as_str()).collect::<Vec<_>>());
            assert!(residual <= rtol, "{name} {rtol}: {residual:e}");
            assert!(load.len() >= 4, "{name}: {load:?}");
        }
    }
}

/// A flywheel pressed onto a stop without friction comes to rest on it: `p = T / k`.
#[test]
fn exact_comes_to_rest_on_the_stop() {
    for rtol in [1e-4, 1e-8] {
        let mut circuit = no_motor();
        let push = GravityTorque { inertia: "0.01 kg m2".parse().unwrap(), ..GravityTorque::new(-2.0).unwrap() };
        circuit.add("push", push, [("shaft", "s")]).unwrap();
        let stop =
            EndStop { damping: "0.4 N m s/rad".parse().unwrap(), ..EndStop::new("2 rad", "400 N m/rad").unwrap() };
        circuit.add("stop", stop, [("shaft", "s")]).unwrap();
        let run = circuit.transient(5.0, &TransientOptions::rtol(rtol)).unwrap();
        let end = run.sample(&[5.0]).unwrap();
        println!("{rtol}: {} events {:?}", run.events.len(), run.counters);
        let p = end.state("stop", "compression").unwrap()[0];
        assert!((p - 2.0 / 400.0).abs() < 10.0 * rtol * 0.01, "{p}");
        assert!(end.state("s", "speed").unwrap()[0].abs() < 100.0 * rtol);
    }
}
