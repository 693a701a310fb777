//! Stiff decay: nothing rings after a jump.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::Cause;

/// `x' = -λ (x - u)` where `u` jumps from 0 to 1 at `t = 1`; `y = x - u` is algebraic.
#[derive(Clone)]
struct Chaser {
    lambda: f64,
    u: f64,
}

impl Model for Chaser {
    fn differential(&self) -> Vec<bool> {
        vec![true, false]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q[0] = x[0];
        f[0] = self.lambda * (x[0] - self.u);
        f[1] = x[1] - (x[0] - self.u);
    }

    fn next_stop(&self) -> Option<f64> {
        (self.u == 0.0).then_some(1.0)
    }

    fn fire(&mut self, _cause: Cause, _t: f64, _x: &mut [f64]) {
        self.u = 1.0;
    }
}

#[test]
fn exact_no_ringing_after_a_jump() {
    for lambda in [1e2, 1e6, 1e10] {
        for tolerance in [1e-2, 1e-3, 1e-4, 1e-6] {
            let options = rtol(tolerance);
            let record = Problem::new(Chaser { lambda, u: 0.0 }).run((0.0, 2.0), &[0.0, 0.0], &options).unwrap();
            assert_eq!(record.jumps.len(), 1);
            assert_eq!(record.jumps[0].0, 1.0);
            // The algebraic unknown has jumped, the other has not but for λ times the restart's tiny steps, each ten times the one
            // before, four at most.
            let jumped = 1112.0 * lambda * options.restart_step;
            assert!(record.jumps[0].1[0].abs() <= jumped && (record.jumps[0].1[1] + 1.0).abs() <= jumped);
            let mut before = -1.0_f64;
            for step in record.steps.iter().filter(|step| step.t0 >= 1.0) {
                let distance = step.x1[1];
                // The method's growth over a step is -0.125 at least (at λ h = 36), and where it is negative it is 1.02 of the error
                // estimate at most (both computed from its coefficients): zero is passed by an eighth of the distance, and by the
                // tolerance, at most.
                let passes = (0.1251 * before.abs()).min(1.02 * tolerance);
                assert!(distance <= passes, "λ {lambda:e}, rtol {tolerance:e}: passed zero by {distance:e}");
                assert!(
                    distance.abs() <= before.abs() + 1e-12,
                    "λ {lambda:e}, rtol {tolerance:e}: grew to {distance:e}"
                );
                before = distance;
            }
            assert!(before.abs() < tolerance);
        }
    }
}

#[test]
fn exact_one_long_step_over_a_stiff_transient_lands_on_its_end() {
    // L-stability: with λ h = 1e12 the end of the very first step is the rest position to the tolerance.
    let options = stallpoint_solve::Options { first_step: Some(1.0), atol_factor: 1e6, ..rtol(1e-6) };
    let record = Problem::new(Chaser { lambda: 1e12, u: 1.0 }).run((0.0, 1.0), &[0.5, -0.5], &options).unwrap();
    assert_eq!(record.steps.len(), 1);
    assert!((record.x[0] - 1.0).abs() < 1e-9, "{}", record.x[0]);
}
