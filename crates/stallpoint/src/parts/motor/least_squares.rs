//! Least squares of a few parameters.

use crate::linear::solve;

/// Iterations; from a near start a handful is enough.
const ITERATIONS: usize = 100;
/// Step of the differences, and length of a last step.
const STEP: f64 = 1e-6;
const DONE: f64 = 1e-13;

/// Parameters near `start` at which the sum of squared residuals is least, by Gauss–Newton steps with a damping that falls
/// as they succeed (K. Levenberg, Quart. Appl. Math. 2 (1944) 164).
pub(super) fn least_squares(start: Vec<f64>, residuals: impl Fn(&[f64]) -> Vec<f64>) -> Vec<f64> {
    let sum = |r: &[f64]| r.iter().map(|r| r * r).sum::<f64>();
    let mut p = start;
    let mut r = residuals(&p);
    let mut damping = 1e-3;
    for _ in 0..ITERATIONS {
        let slopes: Vec<Vec<f64>> = (0..p.len())
            .map(|k| {
                let (mut above, mut below) = (p.clone(), p.clone());
                above[k] += STEP;
                below[k] -= STEP;
                residuals(&above).iter().zip(residuals(&below)).map(|(a, b)| (a - b) / (2.0 * STEP)).collect()
            })
            .collect();
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let mut normal: Vec<Vec<f64>> = slopes
            .iter()
            .map(|row| slopes.iter().map(|column| dot(row, column)).chain([-dot(row, &r)]).collect())
            .collect();
        for k in 0..p.len() {
            normal[k][k] *= 1.0 + damping;
        }
        let Some(step) = solve(normal) else { break };
        let next: Vec<f64> = p.iter().zip(&step).map(|(p, s)| p + s).collect();
        let tried = residuals(&next);
        if sum(&tried) <= sum(&r) {
            (p, r) = (next, tried);
            damping *= 0.1;
            if step.iter().all(|s| s.abs() < DONE) {
                break;
            }
        } else {
            damping *= 10.0;
        }
    }
    p
}
