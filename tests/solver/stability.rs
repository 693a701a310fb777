//! Stability of one step on `x' = λ x`, by both methods: within one for every λ of the left half plane, zero at infinity.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::{Method, Options};

const METHODS: [Method; 2] = [Method::Automatic, Method::SecondOrder];

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
fn growth(method: Method, re: f64, im: f64) -> f64 {
    // Newton solves a linear problem in one iteration whatever its tolerance.
    let options = Options { method, first_step: Some(1.0), atol_factor: 1e9, restart_step: 1e-15, ..rtol(1e-3) };
    let record = Problem::new(Rotation { re, im }).run((0.0, 1.0), &[1.0, 0.0], &options).unwrap();
    assert_eq!(record.steps.len(), 1);
    record.x[0].hypot(record.x[1])
}

#[test]
fn exact_stable_on_the_left_half_plane() {
    for method in METHODS {
        for degrees in [90.0_f64, 89.0, 85.0, 75.0, 60.0, 45.0, 30.0, 15.0, 0.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            for k in -20..=60 {
                let size = 10f64.powf(0.1 * f64::from(k));
                let growth = growth(method, -size * cos.max(0.0), size * sin);
                assert!(growth <= 1.0 + 1e-9, "{method:?}: |λ h| = {size} at {degrees}°: {growth}");
            }
        }
    }
}

#[test]
fn exact_gone_at_infinity() {
    for method in METHODS {
        let at_1e4 = growth(method, -1e4, 0.0);
        assert!(at_1e4 < 2e-3, "{method:?}: {at_1e4}");
        // As 1/|λ h|, down to rounding.
        for size in [1e5, 1e6, 1e7] {
            let growth = growth(method, -size, 0.0);
            assert!(growth < 1.2 * at_1e4 * 1e4 / size + 1e-12, "{method:?}, {size}: {growth}");
        }
    }
}

#[test]
fn exact_order_of_one_step() {
    // Real λ: TR-BDF2 with its error taken off misses e^z by about z⁴/100 (z = -0.1: 9.2e-7 by its rational function);
    // Rodas5P's local error is of order z⁶.
    for (method, order, least, most) in [(Method::SecondOrder, 4, 0.005, 0.02), (Method::Automatic, 6, 1e-7, 1e-4)] {
        for z in [0.4_f64, 0.2, 0.1].map(|z| if order == 4 { 0.25 * z } else { z }) {
            let miss = (growth(method, -z, 0.0) - (-z).exp()).abs() / z.powi(order);
            println!("{method:?} {z}: {miss:e}");
            assert!(miss > least && miss < most, "{method:?}, {z}: {miss:e}");
        }
    }
}
