//! Pick-ups passed by a fast source: each passing is one change.

use crate::support::{breaker_at, through};
use stallpoint::circuit::{At, Change, Part, TransientOptions, Trigger};
use stallpoint::parts::{Breaker, CurrentSource, MagneticTrip};
use stallpoint::quantity::Time;

#[test]
fn exact_each_passing_of_a_pick_up_is_one_change() {
    // Multiples of 1.25 + 0.75 sin(ωt) rise and fall through both pick-ups (1.1, 1.4) once in each of ten periods, and begin
    // above the first.
    for omega in [3.0, 314.0, 3e4] {
        for (rtol, longest) in [(1e-3, 0.6), (1e-4, 0.6), (1e-6, 0.6), (1e-8, 0.6), (1e-4, 2.0)] {
            let source = CurrentSource::function(move |t| 50.0 * (1.25 + 0.75 * f64::sin(omega * t)));
            let breaker = Breaker { cooling_time_constant: Time::from_si(1e15), ..breaker_at(0.5) };
            let options = TransientOptions { max_step: longest / omega, ..TransientOptions::rtol(rtol) };
            let until = 10.0 * 2.0 * std::f64::consts::PI / omega;
            let run = through(source, breaker).transient(until, &options).unwrap();
            assert_eq!(run.counters.events, 41, "{omega} {rtol} {longest}: {:?}", run.counters);
        }
    }
}

#[test]
fn exact_a_guard_that_fires_too_early_changes_nothing() {
    // Pick-ups 55 A and 70 A with a drop-back of 1e-5; magnetic at 250 A, 500 A and 353.6 A.
    let breaker = Breaker { magnetic: Some(MagneticTrip::new(5.0, 10.0)), ..breaker_at(0.5) };
    let rest = breaker.memory();
    let fired = |guard: usize, current: f64, memory: &stallpoint::circuit::Memory| {
        let identity: Vec<u32> = (0..6).collect();
        let mut change = Change::from(memory);
        let x = [0.1, 0.0, current, 0.0, 0.0, 0.0];
        breaker.change(Trigger::Guard(guard), &At::alone(1.0, &x, memory, &identity), &mut change);
        change.memory
    };
    for (guard, level) in [(5, 55.0), (6, 70.0), (7, 250.0), (8, 500.0), (9, 250.0 * f64::sqrt(2.0))] {
        assert_eq!(fired(guard, level * (1.0 - 1e-4), &rest), rest, "too early on the way up");
        let above = fired(guard, level * (1.0 - 1e-7), &rest);
        assert_ne!(above, rest, "near enough");
        assert_eq!(fired(guard, level * (1.0 - 1e-7), &above), above, "too early on the way down");
        assert_eq!(fired(guard, level * (1.0 - 1.1e-5), &above), rest, "below the drop-back");
    }
}
