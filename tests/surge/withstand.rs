//! How long cables and winding withstand a current, against closed forms and against the simulation.

use stallpoint::circuit::{Circuit, Signal, TransientOptions};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::motor::Motor;
use stallpoint::parts::{Breaker, Cable, CurrentSource, Resistor};
use stallpoint::studies::surge::{adiabatic_time, cable_limit_time, winding_limit_time};

use super::support::{assert_close, boat_lift, with};

/// IEC 60364-5-54 Annex A, copper in PVC for 70 °C: k = 115 A s^½ / mm² (tests/reference/adiabatic.toml).
#[test]
fn val_adiabatic_time_is_k_squared_s_squared() {
    let cable = Cable::new("16 mm2", "7 m").unwrap();
    let expected = (115.0_f64 * 16.0 / 1000.0).powi(2);
    assert_close(adiabatic_time(&cable, 1000.0).unwrap(), expected, 1e-12, "1 kA through 16 mm²");
    assert_close(adiabatic_time(&cable, 2000.0).unwrap(), expected / 4.0, 1e-12, "2 kA");
    // Without an ampacity nothing is known of the heat that gets out.
    assert_eq!(cable_limit_time(&cable, 1000.0), adiabatic_time(&cable, 1000.0));
}

#[test]
fn exact_the_cable_limit_bends_from_adiabatic_to_never() {
    let cable = &boat_lift().supply_cable;
    let ampacity = cable.ampacity.unwrap().si();
    let ratio = |current: f64| cable_limit_time(cable, current).unwrap() / adiabatic_time(cable, current).unwrap();
    assert_close(ratio(1e6), 1.0, 1e-6, "a large current is adiabatic");
    assert!(ratio(500.0) > 1.0 && ratio(200.0) > ratio(500.0));
    // 70 °C to 160 °C in air of 30 °C: it settles at the limit at √(130 / 40) times the ampacity.
    let settles = ampacity * (130.0_f64 / 40.0).sqrt();
    assert_eq!(cable_limit_time(cable, settles * (1.0 - 1e-9)), Some(f64::INFINITY));
    assert!(cable_limit_time(cable, settles * (1.0 + 1e-9)).unwrap().is_finite());
}

/// One body's heat balance, stepped through by hand, gives the same time.
#[test]
fn exact_the_cable_limit_solves_its_heat_balance() {
    let cable = &boat_lift().supply_cable;
    let (current, ampacity) = (220.0, cable.ampacity.unwrap().si());
    let per_degree = 90.0 / (115.0_f64 * 16.0).powi(2);
    let mut temperature = 70.0;
    let (mut t, h) = (0.0, 1e-3);
    let rate = |c: f64| per_degree * (current * current - ampacity * ampacity * (c - 30.0) / 40.0);
    while temperature < 160.0 {
        let middle = temperature + 0.5 * h * rate(temperature);
        temperature += h * rate(middle);
        t += h;
    }
    assert_close(cable_limit_time(cable, current).unwrap(), t, 1e-4, "midpoint rule");
}

/// A blocked motor on a constant current, until its winding is at 155 °C.
#[test]
fn exact_winding_limit_time_against_a_transient() {
    for (values, current) in [
        (&[][..], 150.0),
        (&[("motor.thermal_resistance", "left out")][..], 90.0),
        (&[("motor.winding_temperature_c", "60 degC"), ("motor.ambient_c", "35 degC")][..], 120.0),
    ] {
        let drive = with(values);
        let Motor::PermanentMagnet(motor) = drive.motor.clone();
        let limit = motor.max_winding_temperature_c.unwrap().si();
        let expected = winding_limit_time(&drive, current).unwrap();
        let mut circuit = Circuit::new();
        let source = CurrentSource::constant(current).unwrap();
        circuit.add("source", source, [("plus", "ground"), ("minus", "p")]).unwrap();
        circuit.add("motor", motor, [("plus", "p"), ("minus", "ground")]).unwrap();
        circuit.attach("motor", ResistingTorque::new(0.0, "1e6 N m").unwrap()).unwrap();
        let run = circuit.transient(1.1 * expected, &TransientOptions::rtol(1e-8)).unwrap();
        let winding = Signal::State("motor".into(), "winding_temperature".into());
        let reached = run.crossing(&winding, limit, true, 0.0).unwrap().unwrap();
        assert_close(reached, expected, 1e-5, "time to 155 °C");
    }
}

#[test]
fn exact_a_winding_that_never_gets_there() {
    let drive = boat_lift();
    // 155 °C is 135 K above the ambient: 135 / 1.2 W of R(155 °C) i².
    let Motor::PermanentMagnet(motor) = &drive.motor;
    let most = (135.0 / 1.2 / motor.resistance_at(155.0)).sqrt();
    assert_eq!(winding_limit_time(&drive, most * (1.0 - 1e-9)), Some(f64::INFINITY));
    assert!(winding_limit_time(&drive, most * 1.01).unwrap().is_finite());
    assert_eq!(winding_limit_time(&with(&[("motor.heat_capacity", "left out")]), 100.0), None);
    assert_eq!(winding_limit_time(&with(&[("motor.winding_temperature_c", "160 degC")]), 1.0), Some(0.0));
}

/// The time that the band states is the time at which a breaker opens under a steady current, on both edges.
#[test]
fn exact_time_to_trip_against_a_transient() {
    let breaker = boat_lift().breaker;
    for edge in [0.0, 1.0] {
        let current = 2.0 * breaker.rated_current.si();
        let expected = breaker.trip_band.time(edge, 2.0).unwrap();
        let mut circuit = Circuit::new();
        let source = CurrentSource::constant(current).unwrap();
        circuit.add("source", source, [("plus", "ground"), ("minus", "p")]).unwrap();
        // So low beside the breaker's 0.8 mΩ that no arc burns, and accounted for in the current.
        circuit.add("beside", Resistor::new("80 mohm").unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
        let device = Breaker { band_position: edge.to_string().parse().unwrap(), ..breaker.clone() };
        circuit.add("breaker", device, [("line", "p"), ("load", "ground")]).unwrap();
        let run = circuit.transient(1.2 * expected, &TransientOptions::rtol(1e-6)).unwrap();
        let through = run.current("breaker").unwrap()[1] / breaker.rated_current.si();
        let expected = breaker.trip_band.time(edge, through).unwrap();
        let trips = run.events.iter().find(|event| event.what == "trips").unwrap();
        assert_close(trips.time, expected, 1e-4, "trip");
    }
}
