//! Work counters, repeatability, an observer's stop.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{Ending, Flow, Observer, Options, Step, integrate};

#[derive(Clone)]
struct Oscillator;

impl Model for Oscillator {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        (f[0], f[1]) = (-x[1], x[0] + 0.1 * x[0].powi(3));
    }
}

#[test]
fn regress_work_of_an_oscillator() {
    let record = Problem::new(Oscillator).run((0.0, 20.0), &[1.0, 0.0], &rtol(1e-6)).unwrap();
    let counters = record.ended.unwrap().counters;
    println!("{counters:?}");
    // Measured: 109 steps, 10 rejected; eight stages, the time derivative, the end.
    assert!(counters.steps as usize == record.steps.len() && counters.steps <= 115, "{counters:?}");
    assert!(counters.rejected_by_error + counters.rejected_by_newton <= 12, "{counters:?}");
    assert!(counters.factorisations <= counters.steps + 15, "{counters:?}");
    assert!(counters.evaluations <= 10 * (counters.steps + 12), "{counters:?}");
    assert_eq!((counters.events, counters.restarts, counters.redone_for_events), (0, 1, 0));
}

#[test]
fn exact_two_runs_give_the_same_bits() {
    let run = || Problem::new(Oscillator).run((0.0, 20.0), &[1.0, 0.0], &rtol(1e-5)).unwrap();
    assert_eq!(run(), run());
}

/// Stops at a time.
struct Until(f64, u64);

impl<S> Observer<S> for Until {
    fn step(&mut self, _system: &S, step: &Step) -> Flow {
        self.1 += 1;
        if step.t1 >= self.0 { Flow::Stop } else { Flow::Continue }
    }
}

#[test]
fn exact_an_observer_stops_the_run() {
    let mut x = [1.0, 0.0];
    let mut observer = Until(3.0, 0);
    let ended = integrate(&mut Problem::new(Oscillator), (0.0, 20.0), &mut x, &rtol(1e-5), &mut observer).unwrap();
    assert_eq!(ended.ending, Ending::Stopped);
    assert!(ended.t >= 3.0 && ended.t < 3.5);
    assert_eq!(ended.counters.steps, observer.1);
}

#[test]
fn exact_the_limit_of_steps_is_an_ending() {
    let options = Options { max_steps: 10, ..rtol(1e-6) };
    let record = Problem::new(Oscillator).run((0.0, 20.0), &[1.0, 0.0], &options).unwrap();
    assert_eq!(record.ended.unwrap().ending, Ending::StepLimit);
    assert_eq!(record.steps.len(), 10);
    assert_eq!(record.steps[9].x1, record.x);
}
