//! The magnetic element: what it opens, and when.

use crate::support::{assert_close, breaker_at, last, opens_in, through, words};
use stallpoint::circuit::{Circuit, Run, TransientOptions};
use stallpoint::parts::{Breaker, CurrentSource, MagneticTrip, Reset, Resistor, VoltageSource};

/// Fastest at 250 A, slowest at 500 A, own (position 0.5) at 353.6 A.
fn magnetic(position: f64) -> Breaker {
    Breaker { magnetic: Some(MagneticTrip::new(5.0, 10.0)), ..breaker_at(position) }
}

fn pulses(times: &[f64], amperes: &[f64]) -> Run {
    let source = CurrentSource::table(times, amperes).unwrap();
    through(source, magnetic(0.5)).transient(0.1, &TransientOptions::rtol(1e-6)).unwrap()
}

#[test]
fn exact_it_operates_between_its_multiples_by_position() {
    for (position, level) in [(0.0, 250.0), (0.5, 250.0 * f64::sqrt(2.0)), (1.0, 500.0)] {
        let above = opens_in(level * 1.001, magnetic(position), 10.0).unwrap();
        assert_close(above, 8e-3, 1e-9, "above");
        let below = opens_in(level * 0.999, magnetic(position), 10.0).unwrap();
        assert_close(below, breaker_at(position).trip_time(position, level * 0.999).unwrap(), 1e-6, "below: thermal");
        assert!(below > 0.5, "{below}");
    }
}

#[test]
fn exact_it_has_no_memory() {
    // Three times 400 A for 6 ms, 4 ms apart: never the 8 ms that it takes; the heat of the integral does add up.
    let (mut times, mut amperes) = (vec![0.0], vec![0.0]);
    for k in 0..3 {
        let t = 0.01 * f64::from(k);
        times.extend([t + 1e-9, t + 2e-9, t + 6e-3, t + 6e-3 + 1e-9]);
        amperes.extend([0.0, 400.0, 400.0, 0.0]);
    }
    let run = pulses(&times, &amperes);
    assert!(run.events.is_empty(), "{:?}", run.events);
    let heat = 3.0 * 6e-3 / breaker_at(0.5).trip_time(0.5, 400.0).unwrap();
    assert_close(last(&run, "trip_fraction"), heat * f64::exp(-0.08 / 60.0), 1e-3, "heat");
    // One pulse of 9 ms is enough.
    let run = pulses(&[0.0, 0.01, 0.01 + 1e-9, 0.019, 0.019 + 1e-9], &[0.0, 0.0, 400.0, 400.0, 0.0]);
    assert_eq!(words(&run, "device")[0], "trips by its magnetic element");
    assert!((run.events[0].time - 0.018).abs() < 2e-9, "{}", run.events[0].time);
}

#[test]
fn exact_the_edges_tell_what_others_of_its_kind_would_do() {
    // 300 A for 20 ms operates the fastest, not this one at 353.6 A and not the slowest.
    let run = pulses(&[0.0, 0.01, 0.01 + 1e-9, 0.03, 0.03 + 1e-9], &[0.0, 0.0, 300.0, 300.0, 0.0]);
    assert!(run.events.is_empty(), "{:?}", run.events);
    let largest = |state: &str| run.state("device", state).unwrap().iter().fold(0.0, |a: f64, b| a.max(*b));
    assert!(largest("trip_fraction_fastest") >= 1.0);
    assert!(largest("trip_fraction") < 0.1 && largest("trip_fraction_slowest") < 0.1);
}

#[test]
fn exact_it_breaks_a_short_circuit_and_the_energy_adds_up() {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("24 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("device", magnetic(1.0), [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("short", Resistor::new("20 mohm").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    let coil = stallpoint::parts::Inductor::new("20 uH").unwrap();
    circuit.add("coil", coil, [("a", "n"), ("b", "ground")]).unwrap();
    for rtol in [1e-4, 1e-6, 1e-8] {
        let run = circuit.transient(0.1, &TransientOptions::rtol(rtol)).unwrap();
        assert_eq!(words(&run, "device"), ["trips by its magnetic element", "arc goes out"]);
        // i = 24 V / 21 mohm · (1 - exp(-t R / L)) passes 500 A, then 8 ms.
        let passes = -20e-6 / 21e-3 * f64::ln(1.0 - 500.0 * 21e-3 / 24.0);
        // Some ten steps lead to the passing, each wrong by rtol at most.
        assert!((run.events[0].time - passes - 8e-3).abs() <= 10.0 * rtol * passes, "{:?}", run.events);
        assert!(run.energy.residual().abs() <= rtol.max(1e-6) * run.energy.delivered(), "{:?}", run.energy);
    }
}

#[test]
fn exact_a_breaker_that_resets_by_itself_has_none() {
    let breaker = Breaker { reset: Reset::Automatic, ..magnetic(0.5) };
    let error = Circuit::new().add("main", breaker, [("line", "p"), ("load", "ground")]).unwrap_err().to_string();
    assert_eq!(
        error,
        "part \"main\" (breaker): `magnetic` is given to a breaker that resets by itself; a magnetic element leaves no heat \
         to wait for: use reset = \"manual\" or leave it out"
    );
}
