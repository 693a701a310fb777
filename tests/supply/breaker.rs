//! Breaker: when it trips.

use crate::support::{SHARE, assert_close, assert_derivatives, assert_energy_adds_up, breaker_on};
use stallpoint::circuit::{Circuit, Ending, Part, TransientOptions};
use stallpoint::parts::{Breaker, CurrentSource, Resistor, TripBand, VoltageSource};
use stallpoint::quantity::{Fraction, Time};

pub fn band() -> TripBand {
    TripBand::points([[1.1, 900.0], [2.0, 20.0], [6.0, 1.0]], [[1.4, 3600.0], [2.0, 80.0], [6.0, 4.0]]).unwrap()
}

fn at_position(p: f64) -> Breaker {
    Breaker { band_position: Fraction::from_si(p), ..Breaker::new("50 A", band()).unwrap() }
}

fn until_trip(rtol: f64) -> TransientOptions {
    TransientOptions { stop_at_event_of: Some("breaker".into()), ..TransientOptions::rtol(rtol) }
}

#[test]
fn exact_constant_current_trips_at_the_time_of_the_band() {
    for p in [0.0, 0.3, 0.5, 1.0] {
        for multiple in [1.7, 2.0, 3.7, 9.0] {
            let source = CurrentSource::constant(multiple * 50.0 / SHARE).unwrap();
            let run = breaker_on(source, at_position(p)).transient(1e5, &until_trip(1e-6)).unwrap();
            assert_eq!(run.ending, Ending::StoppedAtEvent);
            assert_eq!(run.events[0].what, "trips");
            let time = band().time(p, multiple).unwrap();
            assert_close(run.events[0].time, time, 1e-6, "trip");
            for (state, edge) in [("trip_fraction_fastest", 0.0), ("trip_fraction_slowest", 1.0)] {
                let fraction = run.state("breaker", state).unwrap();
                assert_close(*fraction.last().unwrap(), time / band().time(edge, multiple).unwrap(), 1e-6, state);
            }
        }
    }
}

#[test]
fn exact_backward_current_counts_too() {
    let run = breaker_on(CurrentSource::constant(-100.0 / SHARE).unwrap(), at_position(0.0));
    let run = run.transient(100.0, &until_trip(1e-6)).unwrap();
    assert_close(run.events[0].time, 20.0, 1e-6, "trip");
}

#[test]
fn exact_only_the_fastest_counts_below_the_slowest_pick_up() {
    // 1.2 times the rated current: above 1.1, below 1.4.
    let run = breaker_on(CurrentSource::constant(60.0 / SHARE).unwrap(), at_position(0.5));
    let run = run.transient(100.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert!(run.events.is_empty(), "{:?}", run.events);
    let last = |state| *run.state("breaker", state).unwrap().last().unwrap();
    assert_close(last("trip_fraction_fastest"), 100.0 / band().time(0.0, 1.2).unwrap(), 1e-6, "fastest");
    assert_eq!(last("trip_fraction_slowest"), 0.0);
    assert_eq!(last("trip_fraction"), 0.0);
}

#[test]
fn exact_steps_of_current_accumulate_and_cool() {
    // 3 times for 2 s, off for 30 s, 2 times for 5 s, 4 times until it trips; corners of 1 ns, so known to 1e-9 of that.
    let (a, b, c) = (150.0 / SHARE, 100.0 / SHARE, 200.0 / SHARE);
    let times = [0.0, 2.0, 2.0 + 1e-9, 32.0, 32.0 + 1e-9, 37.0, 37.0 + 1e-9];
    let source = CurrentSource::table(times, [a, a, 0.0, 0.0, b, b, c]).unwrap();
    let breaker = at_position(0.5);
    let own = |multiple: f64| band().time(0.5, multiple).unwrap();
    let heated = 2.0 / own(3.0);
    let cooled = heated * f64::exp(-30.0 / 60.0);
    let again = cooled + 5.0 / own(2.0);
    let trips = 37.0 + (1.0 - again) * own(4.0);
    let run = breaker_on(source, breaker).transient(100.0, &until_trip(1e-8)).unwrap();
    let at = |t: f64| run.sample(&[t]).unwrap().state("breaker", "trip_fraction").unwrap()[0];
    assert_close(at(2.0), heated, 1e-7, "heated");
    assert_close(at(32.0), cooled, 1e-6, "cooled");
    assert_close(at(37.0), again, 1e-6, "heated again");
    assert_close(run.events[0].time, trips, 1e-6, "trip");
}

#[test]
fn exact_ramp_accumulates_the_integral_of_the_rate() {
    // Multiples rise from 0 to 8 in 8 s. On each piece 1/t = (M/M0)^-s / t0 integrates to a power.
    let piece = |m0: f64, t0: f64, slope: f64, m1: f64| {
        let power = 1.0 - slope;
        m0 / (t0 * power) * ((m1 / m0).powf(power) - 1.0)
    };
    let steep = f64::ln(20.0 / 900.0) / f64::ln(2.0 / 1.1);
    let flat = f64::ln(1.0 / 20.0) / f64::ln(3.0);
    let whole = piece(1.1, 900.0, steep, 2.0) + piece(2.0, 20.0, flat, 6.0) + piece(6.0, 1.0, -2.0, 7.0);
    let source = CurrentSource::table([0.0, 8.0], [0.0, 400.0 / SHARE]).unwrap();
    for rtol in [1e-4, 1e-6, 1e-8] {
        let run = breaker_on(source.clone(), at_position(1.0)).transient(7.0, &TransientOptions::rtol(rtol)).unwrap();
        let fraction = run.state("breaker", "trip_fraction_fastest").unwrap();
        // Each step may be wrong by rtol of the value.
        assert_close(*fraction.last().unwrap(), whole, rtol * run.counters.steps as f64, "fastest");
    }
}

#[test]
fn exact_pick_up_is_passed_many_times_without_loss() {
    // Multiples of 1.25 ± 0.75 at 3 rad/s pass both pick-ups; without cooling the fraction is the integral of 1/t.
    let multiple = |t: f64| 1.25 + 0.75 * f64::sin(3.0 * t);
    let source = CurrentSource::function(move |t| 50.0 / SHARE * multiple(t));
    let breaker = Breaker { cooling_time_constant: Time::from_si(1e15), ..at_position(0.5) };
    // Nothing else in this circuit moves, so nothing but the longest step makes the solver look at the source.
    let options = TransientOptions { max_step: 0.1, ..TransientOptions::rtol(1e-6) };
    let run = breaker_on(source, breaker).transient(20.0, &options).unwrap();
    let n = 1_000_000;
    for (state, p) in [("trip_fraction_fastest", 0.0), ("trip_fraction", 0.5), ("trip_fraction_slowest", 1.0)] {
        let rate =
            |k: i32| band().time(p, multiple((f64::from(k) + 0.5) * 20.0 / f64::from(n))).map_or(0.0, |t| 1.0 / t);
        let whole = (0..n).map(rate).sum::<f64>() * 20.0 / f64::from(n);
        let fraction = run.state("breaker", state).unwrap();
        // Each step may be wrong by rtol of 0.1 or of the value.
        let within = 1e-6 * run.counters.steps as f64 * whole.max(0.1);
        let last = fraction.last().unwrap();
        assert!((last - whole).abs() < within && within < 0.01 * whole, "{state}: {last} against {whole}");
    }
}

#[test]
fn exact_a_current_at_the_pick_up_does_not_chatter() {
    for off in [-1e-5, -1e-6, -1e-9, 0.0, 1e-9, 1e-6] {
        let ramp = CurrentSource::table([0.0, 1.0, 2.0, 3.0], [0.0, 55.0, 55.0 * (1.0 + off), 70.0].map(|i| i / SHARE));
        let run = breaker_on(ramp.unwrap(), at_position(0.5)).transient(3.0, &TransientOptions::rtol(1e-4)).unwrap();
        assert!(run.counters.events < 12, "{off}: {:?}", run.counters);
    }
}

#[test]
fn exact_energy_adds_up_through_a_trip_with_its_arc() {
    let mut circuit = Circuit::new();
    let source = VoltageSource::constant("48 V").unwrap();
    circuit.add("source", source, [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("breaker", at_position(0.0), [("line", "p"), ("load", "m")]).unwrap();
    circuit.add("resistor", Resistor::new("0.1 ohm").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
    let coil = stallpoint::parts::Inductor::new("100 uH").unwrap();
    circuit.add("coil", coil, [("a", "n"), ("b", "ground")]).unwrap();
    for rtol in [1e-4, 1e-6] {
        let run = circuit.transient(2.0, &TransientOptions::rtol(rtol)).unwrap();
        let what: Vec<&str> = run.events.iter().map(|event| event.what.as_str()).collect();
        assert_eq!(what, ["trips", "arc goes out"]);
        assert!(run.current("breaker").unwrap().last().unwrap().abs() < 1e-6);
        assert_eq!(*run.state("breaker", "closed").unwrap().last().unwrap(), 0.0);
        assert_energy_adds_up(&run, rtol);
    }
}

#[test]
fn exact_derivatives_are_those_of_the_equations() {
    let mut memory = at_position(0.3).memory();
    for above in [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]] {
        let n = memory.numbers.len();
        memory.numbers[n - 2..].copy_from_slice(&above);
        for i in [90.0, -130.0, 20.0, 700.0] {
            assert_derivatives(&at_position(0.3), &[12.0, 11.9, i, 0.4, 0.1, 0.2], &memory);
        }
    }
}

#[test]
fn exact_reads_back_from_a_file() {
    let text = "rated_current = '50 A'\ntrip_band.inverse_time = { curve = 'iec_very_inverse' }\nreset = 'automatic'\nband_position = '20 %'";
    let breaker: Breaker = toml::from_str(text).unwrap();
    assert_eq!(breaker.reset, stallpoint::parts::Reset::Automatic);
    assert_eq!(breaker.band_position.si(), 0.2);
    assert_eq!(toml::from_str::<Breaker>(&toml::to_string(&breaker).unwrap()).unwrap(), breaker);
}

#[test]
fn exact_refusals_name_the_argument() {
    let refused = |breaker: Breaker| {
        let error = Circuit::new().add("main", breaker, [("line", "p"), ("load", "ground")]).unwrap_err();
        error.to_string()
    };
    assert_eq!(
        refused(at_position(1.2)),
        "part \"main\" (breaker): `band_position` is 1.2, but must be between 0 and 1"
    );
    assert_eq!(
        refused(Breaker { recloses_at: Fraction::from_si(1.0), ..at_position(0.5) }),
        "part \"main\" (breaker): `recloses_at` is 1, but must be above 0 and below 1"
    );
    assert_eq!(
        Breaker::new("50 V", band()).unwrap_err().to_string(),
        "`rated_current`: \"50 V\" is a voltage; a current is expected, for example \"80 A\""
    );
}
