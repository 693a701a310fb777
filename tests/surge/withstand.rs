//! How long cables withstand a current, against closed forms and against the simulation.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Breaker, Cable, CurrentSource, Resistor};
use stallpoint::studies::surge::{adiabatic_time, cable_limit_time};
use stallpoint::tables::{adiabatic::Insulation, conductors::Conductor};

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

/// What a k value with its temperatures stands for, and the beta that it is computed with.
struct Known {
    cable: Cable,
    k: f64,
    beta: f64,
    first: f64,
    last: f64,
}

/// IEC 60364-5-54 Annex A (tests/reference/adiabatic.toml); beta of aluminium from memory, here only what the model has.
fn known() -> Vec<Known> {
    let rows = [
        ("16 mm2", Conductor::Copper, Insulation::Pvc70, 115.0, 234.5, 70.0, 160.0),
        ("400 mm2", Conductor::Copper, Insulation::Pvc70, 103.0, 234.5, 70.0, 140.0),
        ("16 mm2", Conductor::Copper, Insulation::Xlpe90, 143.0, 234.5, 90.0, 250.0),
        ("16 mm2", Conductor::Aluminium, Insulation::Pvc70, 76.0, 228.0, 70.0, 160.0),
        ("16 mm2", Conductor::Aluminium, Insulation::Xlpe90, 94.0, 228.0, 90.0, 250.0),
    ];
    let of = |(size, conductor, insulation, k, beta, first, last)| {
        let ampacity = Some(format!("{AMPACITY} A").parse().unwrap());
        let cable = Cable { conductor, insulation, ampacity, ..Cable::new(size, "7 m").unwrap() };
        Known { cable, k, beta, first, last }
    };
    rows.into_iter().map(of).collect()
}

const AMPACITY: f64 = 85.0;

impl Known {
    fn time(&self, current: f64) -> f64 {
        cable_limit_time(&self.cable, current).unwrap()
    }

    /// Resistance over that at 20 °C.
    fn resistance(&self, temperature: f64) -> f64 {
        (self.beta + temperature) / (self.beta + 20.0)
    }

    /// The current that settles at `last`: i² R(last) / (last - 30) = i_z² R(first) / (first - 30).
    fn settles(&self) -> f64 {
        let per_kelvin = |c: f64| self.resistance(c) / (c - 30.0);
        AMPACITY * (per_kelvin(self.first) / per_kelvin(self.last)).sqrt()
    }

    /// The integral of C dθ / (i² R(θ) - (θ - 30) G) by Simpson's rule, C from k and G from the ampacity.
    fn integral(&self, current: f64) -> f64 {
        let area = self.cable.area_m2() * 1e6;
        let (first, last) = (self.first, self.last);
        let capacity = (self.k * area).powi(2) / (self.beta + 20.0) / ((self.beta + last) / (self.beta + first)).ln();
        let conductance = AMPACITY * AMPACITY * self.resistance(first) / (first - 30.0);
        let slowness = |c: f64| capacity / (current * current * self.resistance(c) - conductance * (c - 30.0));
        let (n, h) = (20_000, (last - first) / 20_000.0);
        let weight = |k: u32| if k == 0 || k == n { 1.0 } else { 2.0 + 2.0 * f64::from(k % 2) };
        (0..=n).map(|k| weight(k) * slowness(first + h * f64::from(k))).sum::<f64>() * h / 3.0
    }
}

/// As t goes to 0, k² S² / i²: k has the rising resistance in it already.
#[test]
fn exact_a_large_current_is_adiabatic() {
    for known in known() {
        let ratio = |current: f64| known.time(current) / adiabatic_time(&known.cable, current).unwrap();
        assert_close(ratio(1e3 * AMPACITY), 1.0, 1e-5, "1000 times the ampacity");
        assert_close(ratio(1e5 * AMPACITY), 1.0, 1e-9, "100 000 times the ampacity");
        assert!(ratio(3.0 * AMPACITY) > ratio(6.0 * AMPACITY) && ratio(6.0 * AMPACITY) > 1.0);
    }
}

/// As t goes to infinity, the current whose steady temperature is the limit.
#[test]
fn exact_a_current_that_settles_at_the_limit_is_withstood_for_ever() {
    for known in known() {
        let settles = known.settles();
        assert_eq!(known.time(settles * (1.0 - 1e-9)), f64::INFINITY);
        assert!(known.time(settles * (1.0 + 1e-9)).is_finite());
        assert_eq!((known.time(AMPACITY), known.time(0.0)), (f64::INFINITY, f64::INFINITY));
    }
    // The resistance at 160 °C is (234.5 + 160) / (234.5 + 70) = 1.296 of that at 70 °C: 3.25 / 1.296 = 1.584².
    let copper = &known()[0];
    assert_close(copper.settles() / AMPACITY, 1.583_842, 1e-6, "copper in PVC");
    // With the resistance of 70 °C throughout it would be 1.80 times the ampacity.
    assert!(copper.time(1.8 * AMPACITY).is_finite());
}

#[test]
fn exact_the_cable_limit_is_the_integral_of_its_heat_balance() {
    for known in known() {
        for times in [1.65, 1.8, 2.0, 2.5, 2.7, 3.0, 5.0, 20.0] {
            let current = times * AMPACITY;
            let what = format!("{times} times the ampacity, k = {}", known.k);
            assert_close(known.time(current), known.integral(current), 1e-9, &what);
        }
        // Where heating and cooling grow alike with the temperature the closed form is a limit of its own.
        let alike = AMPACITY * ((known.beta + known.first) / (known.first - 30.0)).sqrt();
        for current in [alike * (1.0 - 1e-12), alike, alike * (1.0 + 1e-12)] {
            assert_close(known.time(current), known.integral(current), 1e-9, "alike");
        }
    }
}

/// Watts and joules of a metre of copper, stepped through in time, without k. To what the printed K = 226 and k = 115 are
/// rounded, 0.5 in 115 being 0.9 % of the time.
///
/// 3.45e-3 J/(K mm³): IEC 60949. 1/58 Ω mm²/m and 0.00393 per kelvin at 20 °C: IEC 60028.
#[test]
fn val_the_cable_limit_against_copper_stepped_through_in_time() {
    let cable = &boat_lift().supply_cable;
    let (area, ampacity) = (16.0, cable.ampacity.unwrap().si());
    let resistance = |c: f64| (1.0 + 0.00393 * (c - 20.0)) / (58.0 * area);
    let capacity = 3.45 * area;
    let conductance = ampacity * ampacity * resistance(70.0) / 40.0;
    for current in [150.0, 220.0, 1000.0] {
        let rate = |c: f64| (current * current * resistance(c) - conductance * (c - 30.0)) / capacity;
        let (mut temperature, mut t, h) = (70.0, 0.0, 1e-3);
        while temperature < 160.0 {
            let middle = temperature + 0.5 * h * rate(temperature);
            temperature += h * rate(middle);
            t += h;
        }
        assert_close(cable_limit_time(cable, current).unwrap(), t, 0.009, &format!("midpoint rule at {current} A"));
    }
}

/// A larger current is withstood for less long, and none for less long than if no heat got out.
#[test]
fn prop_the_cable_limit_falls_with_the_current() {
    for known in known() {
        let mut before = f64::INFINITY;
        for step in 1..2000 {
            let current = known.settles() * (1.0 + 1e-6) * 1.003_f64.powi(step);
            let time = known.time(current);
            assert!(time < before, "{current} A: {time} s after {before} s");
            assert!(time >= adiabatic_time(&known.cable, current).unwrap());
            before = time;
        }
    }
}

/// The time that the band states is the time at which a breaker opens under a steady current, on both edges.
#[test]
fn exact_time_to_trip_against_a_transient() {
    let breaker = boat_lift().breaker.unwrap();
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
