//! Equilibrium: `f = 0` with some unknowns held.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{SolveError, equilibrium};

/// A source of 12 V behind 0.5 ohm on a diode, one state held beside it.
#[derive(Clone)]
struct Rectifier;

impl Model for Rectifier {
    fn differential(&self) -> Vec<bool> {
        vec![false, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[1] = x[1];
        // The exponential goes on as its tangent above 1.5 V, or a trial value would overflow.
        let (low, growth) = (x[0].min(1.5), (x[0].min(1.5) / 0.0414).exp());
        f[0] = (x[0] - 12.0) / 0.5 + 1e-10 * (growth * (1.0 + (x[0] - low) / 0.0414) - 1.0);
        f[1] = x[1] - x[0];
    }
}

#[test]
fn exact_held_unknowns_keep_their_bits() {
    let mut x = [0.0, 0.1 + 0.2];
    let counters = equilibrium(&mut Problem::new(Rectifier), 0.0, &mut x, &[false, true], &rtol(1e-10)).unwrap();
    assert_eq!(x[1].to_bits(), (0.1_f64 + 0.2).to_bits());
    let current = (12.0 - x[0]) / 0.5;
    assert!((1e-10 * ((x[0] / 0.0414).exp() - 1.0) / current - 1.0).abs() < 1e-9);
    assert!(counters.newton_iterations > 0);
}

#[test]
fn exact_free_unknowns_follow() {
    let mut x = [0.0, 0.0];
    equilibrium(&mut Problem::new(Rectifier), 0.0, &mut x, &[false, false], &rtol(1e-10)).unwrap();
    assert!((x[0] - x[1]).abs() < 1e-12);
}

/// `x' = 1`: no equilibrium at all.
#[derive(Clone)]
struct Runaway;

impl Model for Runaway {
    fn differential(&self) -> Vec<bool> {
        vec![true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = -1.0;
    }
}

#[test]
fn exact_without_equilibrium_the_unknown_is_named_and_x_is_left_alone() {
    let mut x = [3.0];
    let error = equilibrium(&mut Problem::new(Runaway), 0.0, &mut x, &[false], &rtol(1e-10)).unwrap_err();
    assert_eq!(x, [3.0]);
    assert!(matches!(error, SolveError::Singular { .. }));
    assert_eq!(
        error.to_string(),
        "at 0 s the equations have no unique solution: unknown 0 is not determined (see equation 0)"
    );
}
