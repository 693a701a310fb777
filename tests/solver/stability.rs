//! Stability of one step on `x' = λ x`: within one for every λ of the left half plane, zero at infinity.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::Options;

/// `x' = λ x` with complex `λ = (re, im)`, in two real unknowns.
#[derive(Clone)]
struct Rotation {
    re: f64,
    im: f64,
}

impl Model for Rotation {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        f[0] = -(self.re * x[0] - self.im * x[1]);
        f[1] = -(self.im * x[0] + self.re * x[1]);
    }
}

/// Growth over one step of length one: the tolerance is so loose that no error refuses the step.
fn growth(re: f64, im: f64) -> f64 {
    // Newton solves a linear problem in one iteration whatever its tolerance.
    let options = Options { first_step: Some(1.0), atol_factor: 1e9, restart_step: 1e-15, ..rtol(1e-3) };
    let record = Problem::new(Rotation { re, im }).run((0.0, 1.0), &[1.0, 0.0], &options).unwrap();
    assert_eq!(record.steps.len(), 1);
    record.x[0].hypot(record.x[1])
}

#[test]
fn exact_stable_on_the_left_half_plane() {
    for degrees in [90.0_f64, 89.0, 85.0, 75.0, 60.0, 45.0, 30.0, 15.0, 0.0] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        for k in -20..=60 {
            let size = 10f64.powf(0.1 * f64::from(k));
            let growth = growth(-size * cos.max(0.0), size * sin);
            assert!(growth <= 1.0 + 1e-9, "|λ h| = {size} at {degrees}°: {growth}");
        }
    }
}

#[test]
fn exact_gone_at_infinity() {
    for size in [1e4, 1e6, 1e8] {
        assert!(growth(-size, 0.0) < 10.0 / size, "{size}: {}", growth(-size, 0.0));
    }
}

#[test]
fn exact_fourth_order_in_one_step() {
    // Real λ: the end misses e^z by about z⁴/100 (z = -0.1: 9.2e-7 by the method's rational function).
    for z in [0.1_f64, 0.05, 0.025] {
        let miss = (growth(-z, 0.0) - (-z).exp()).abs() / z.powi(4);
        assert!(miss > 0.005 && miss < 0.02, "{z}: {miss}");
    }
}
