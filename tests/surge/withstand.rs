//! How long cables withstand a current, against closed forms and against the simulation.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Breaker, Cable, CurrentSource, Resistor};
use stallpoint::studies::surge::{adiabatic_time, cable_limit_time};

use super::support::{assert_close, boat_lift};

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
