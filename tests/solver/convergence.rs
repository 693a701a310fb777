//! Order of convergence on smooth nonlinear problems: TR-BDF2 is of second order, with its error taken off of third.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{Method, Options};

/// `d/dt x³ = 3 x² cos t`: charge form with a nonlinear `q`; solution `2 + sin t`.
#[derive(Clone)]
struct Cubic;

impl Model for Cubic {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0].powi(3);
        f[0] = -3.0 * x[0] * x[0] * t.cos();
    }
}

/// `x' = -y`, `0 = y - x²`: solution `x = 1/(1 + t)`.
#[derive(Clone)]
struct Hyperbola;

impl Model for Hyperbola {
    fn differential(&self) -> Vec<bool> {
        vec![true, false]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = x[1];
        f[1] = x[1] - x[0] * x[0];
    }
}

/// Two species of Lotka and Volterra: no closed form, but the invariant `x - ln x + y - ln y` shows the error.
#[derive(Clone)]
struct Predators;

impl Model for Predators {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        f[0] = -x[0] * (1.0 - x[1]);
        f[1] = x[1] * (1.0 - x[0]);
    }
}

/// Slope of log error over log step length between the first and the last of a ladder.
fn slope(ladder: &[(f64, f64)]) -> f64 {
    let (first, last) = (ladder[0], ladder[ladder.len() - 1]);
    (first.1 / last.1).ln() / (first.0 / last.0).ln()
}

/// Errors with fixed steps: the step tolerance is never the limit, Newton is solved far below the error.
fn fixed<M: Model>(
    (method, steps): (Method, [f64; 3]),
    model: M,
    x: &[f64],
    until: f64,
    error: impl Fn(&[f64]) -> f64,
) -> f64 {
    let ladder: Vec<(f64, f64)> = steps
        .iter()
        .map(|&h| {
            let options = Options { method, max_step: h, first_step: Some(h), ..rtol(3e-6) };
            let record = Problem::new(model.clone()).run((0.0, until), x, &options).unwrap();
            assert_eq!(record.ended.unwrap().counters.rejected_by_error, 0);
            (h, error(&record.x))
        })
        .collect();
    println!("{ladder:?} slope {}", slope(&ladder));
    slope(&ladder)
}

fn orders(method: Method, steps: [f64; 3]) -> [f64; 3] {
    let how = (method, steps);
    [
        fixed(how, Hyperbola, &[1.0, 1.0], 4.0, |x| (x[0] - 0.2).abs()),
        fixed(how, Hyperbola, &[1.0, 1.0], 4.0, |x| (x[1] - 0.04).abs()),
        fixed(how, Predators, &[2.0, 2.0], 4.0, |x| {
            (x[0] - x[0].ln() + x[1] - x[1].ln() - 2.0 * (2.0 - 2.0_f64.ln())).abs()
        }),
    ]
}

#[test]
fn exact_third_order_with_fixed_steps() {
    let orders = orders(Method::SecondOrder, [0.016, 0.008, 0.004]);
    assert!(orders.iter().all(|order| (order - 3.0).abs() < 0.2), "{orders:?}");
}

#[test]
fn exact_fifth_order_with_fixed_steps() {
    let orders = orders(Method::Automatic, [0.1, 0.05, 0.025]);
    assert!(orders.iter().all(|order| *order > 4.7 && *order < 5.8), "{orders:?}");
}

#[test]
fn exact_third_order_by_tolerance() {
    // The content is not linear, so the run goes over to TR-BDF2 by itself.
    // The error goes as h³, the number of steps as 1/h; it falls a little faster as Newton's share falls with it.
    let ladder: Vec<(f64, f64)> = [1e-4, 1e-5, 1e-6, 1e-7, 1e-8]
        .iter()
        .map(|&tolerance| {
            let record = Problem::new(Cubic).run((0.0, 4.0), &[2.0], &rtol(tolerance)).unwrap();
            let worst = record.steps.iter().map(|s| (s.x1[0] - 2.0 - s.t1.sin()).abs()).fold(0.0, f64::max);
            (1.0 / record.steps.len() as f64, worst)
        })
        .collect();
    println!("{ladder:?} slope {}", slope(&ladder));
    assert!(slope(&ladder) > 2.8 && slope(&ladder) < 3.6, "{ladder:?}");
}
