//! A block on a moving belt, held by a spring: sticks, slips, sticks again.

use super::model::{Model, Problem, rtol};
use stallpoint_solve::Cause;

/// Unit mass and spring; the belt drags at `speed`. Unknowns: force of the spring `s`, speed `w` of the slip.
#[derive(Clone)]
struct Block {
    speed: f64,
    hold: f64,
    slide: f64,
    slips: bool,
    changes: Vec<f64>,
}

impl Model for Block {
    fn differential(&self) -> Vec<bool> {
        vec![true, true]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        q.copy_from_slice(x);
        f[0] = x[1] - self.speed;
        f[1] = if self.slips { self.slide - x[0] } else { 0.0 };
    }

    fn guard_count(&self) -> usize {
        2
    }

    fn guards(&self, _t: f64, x: &[f64], out: &mut [f64]) {
        out.fill(-1.0);
        if self.slips {
            out[1] = -x[1];
        } else {
            out[0] = x[0] - self.hold;
        }
    }

    fn fire(&mut self, _cause: Cause, t: f64, x: &mut [f64]) {
        self.slips = !self.slips;
        x[1] = 0.0;
        self.changes.push(t);
    }
}

#[test]
fn exact_stick_slip_cycle() {
    let (speed, hold, slide) = (0.3, 1.0, 0.6);
    let mut problem = Problem::new(Block { speed, hold, slide, slips: false, changes: Vec::new() });
    problem.run((0.0, 40.0), &[0.0, 0.0], &rtol(1e-8)).unwrap();
    // Slipping: w = v (1 - cos t) + d sin t with d = hold - slide, zero again at 2π - 2 atan(d/v); sticking lasts 2d/v.
    let d: f64 = hold - slide;
    let (slip, stick) = (std::f64::consts::TAU - 2.0 * (d / speed).atan(), 2.0 * d / speed);
    let mut exact = vec![hold / speed];
    while exact[exact.len() - 1] < 40.0 {
        let last = exact[exact.len() - 1];
        exact.push(last + if exact.len() % 2 == 1 { slip } else { stick });
    }
    exact.pop();
    assert_eq!(problem.model.changes.len(), exact.len());
    for (found, exact) in problem.model.changes.iter().zip(&exact) {
        assert!((found - exact).abs() < 1e-5 * exact, "{found} against {exact}");
    }
}
