//! Dense output: within ten times the step tolerance of the exact flow from the step's own start.

use super::model::{Model, Numbers, Problem, rtol};

type Flow = fn(dt: f64, t0: f64, x0: &[f64]) -> Vec<f64>;

#[derive(Clone)]
struct Logistic;

impl Model for Logistic {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = -x[0] * (1.0 - x[0]);
    }
}

#[derive(Clone)]
struct Oscillator;

impl Model for Oscillator {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        (f[0], f[1]) = (-x[1], x[0]);
    }
}

/// Stiff, with an algebraic unknown that follows: `x' = -1000 (x - cos t) - sin t`, `y = 2 x + t`.
#[derive(Clone)]
struct Follower;

impl Model for Follower {
    fn differential(&self) -> Vec<bool> {
        vec![true, false]
    }

    fn equations(&self, t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = 1000.0 * (x[0] - t.cos()) + t.sin();
        f[1] = x[1] - 2.0 * x[0] - t;
    }
}

/// Largest error on a random grid in units of the tolerance.
fn worst(model: impl Model, x: &[f64], until: f64, flow: Flow, tolerance: f64) -> f64 {
    let scale = model.scale();
    let record = Problem::new(model).run((0.0, until), x, &rtol(tolerance)).unwrap();
    let mut numbers = Numbers(0x9e37_79b9);
    let mut worst = 0.0_f64;
    for step in &record.steps {
        for _ in 0..5 {
            let theta = numbers.next();
            let exact = flow(theta * (step.t1 - step.t0), step.t0, &step.x0);
            for (i, value) in step.sample(theta).iter().enumerate() {
                let weight = tolerance * step.x1[i].abs().max(scale[i]);
                worst = worst.max((value - exact[i]).abs() / weight);
            }
        }
    }
    worst
}

#[test]
fn exact_dense_output_within_ten_tolerances() {
    let logistic: Flow = |dt, _, x| vec![1.0 / (1.0 + (1.0 / x[0] - 1.0) * (-dt).exp())];
    let oscillator: Flow = |dt, _, x| {
        let (sin, cos) = dt.sin_cos();
        vec![x[0] * cos + x[1] * sin, x[1] * cos - x[0] * sin]
    };
    let follower: Flow = |dt, t0, x| {
        let y = (t0 + dt).cos() + (x[0] - t0.cos()) * (-1000.0 * dt).exp();
        vec![y, 2.0 * y + t0 + dt]
    };
    for tolerance in [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8] {
        let found = [
            worst(Logistic, &[0.1], 12.0, logistic, tolerance),
            worst(Oscillator, &[1.0, 0.0], 10.0, oscillator, tolerance),
            worst(Follower, &[2.0, 4.0], 3.0, follower, tolerance),
        ];
        println!("{tolerance:e}: {found:?}");
        assert!(found.iter().all(|&error| error <= 10.0), "{tolerance:e}: {found:?}");
    }
}

/// Only an algebraic unknown that follows time: nothing but the dense output's own error can hold the step.
#[derive(Clone)]
struct Sine;

impl Model for Sine {
    fn differential(&self) -> Vec<bool> {
        vec![false]
    }

    fn equations(&self, t: f64, x: &[f64], _q: &mut [f64], f: &mut [f64]) {
        f[0] = x[0] - (7.0 * t).cos();
    }
}

#[test]
fn exact_an_algebraic_unknown_that_follows_time_is_followed_between_the_steps() {
    let cosine: Flow = |dt, t0, _| vec![(7.0 * (t0 + dt)).cos()];
    for tolerance in [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8] {
        let found = worst(Sine, &[1.0], 20.0, cosine, tolerance);
        println!("{tolerance:e}: {found}");
        assert!(found <= 10.0, "{tolerance:e}: {found}");
    }
}

/// As `Sine`, but the source jumps without an event.
#[derive(Clone)]
struct Undeclared;

impl Model for Undeclared {
    fn differential(&self) -> Vec<bool> {
        vec![false, true]
    }

    fn equations(&self, t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        f[0] = x[0] - if t > 0.4321 { 1.0 } else { 0.0 };
        (q[1], f[1]) = (x[1], x[1] - x[0]);
    }
}

#[test]
fn exact_a_jump_that_no_event_declares_does_not_stop_the_run() {
    let record = Problem::new(Undeclared).run((0.0, 2.0), &[0.0, 0.0], &rtol(1e-4)).unwrap();
    assert_eq!(record.x[0], 1.0);
    assert!((record.x[1] - (1.0 - (0.4321_f64 - 2.0).exp())).abs() < 1e-3, "{:?}", record.x);
    assert!(record.steps.len() < 100, "{} steps", record.steps.len());
}
