//! Consistent values after a mode change, and a sensible step to go on with.

use crate::error::SolveError;
use crate::newton::{Freshness, Newton, Stage};
use crate::options::Options;
use crate::system::System;
use crate::weights::Weights;

/// Newton is solved to this fraction of an ordinary step's tolerance: what a jump gets wrong stays wrong.
const TOLERANCE: f64 = 1e-3;
const MAX_ITERATIONS: u64 = 100;
/// Euler steps at most, and the relative change at which they may end.
const MOST_STEPS: usize = 8;
const SETTLED: f64 = 1e-7;

/// Workspace of the restarts.
pub(crate) struct Restart {
    known: Vec<f64>,
    slope: Vec<f64>,
}

impl Restart {
    pub(crate) fn new(n: usize) -> Self {
        Self { known: vec![0.0; n], slope: vec![0.0; n] }
    }

    /// Makes `x` consistent at `t`: `q` stays as it is (to within `2 · restart_step · f`), the rest is solved again.
    ///
    /// At least two implicit Euler steps: the first may leave an impulse in unknowns that only a derivative determines, the
    /// second removes it; more while something still decays, as a current against the leak of an open contact does. That they move `q` on a little is wanted: a shaft that breaks away has a sign of its speed at once, and
    /// not one of rounding that a guard at zero would take for a stop. Returns a first step length.
    pub(crate) fn consistent(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        options: &Options,
        t: f64,
        x: &mut [f64],
    ) -> Result<f64, SolveError> {
        newton.counters.restarts += 1;
        newton.forget();
        let c = options.restart_step;
        newton.evaluate(system, t, x, false);
        for round in 0..MOST_STEPS {
            self.known.copy_from_slice(&newton.at.q);
            self.slope.copy_from_slice(x);
            let stage = Stage::Implicit { c, known: &self.known };
            newton.iterate(system, stage, t, x, weights, TOLERANCE, Freshness::Always, MAX_ITERATIONS)?;
            for (change, x) in self.slope.iter_mut().zip(&*x) {
                *change -= x;
            }
            let moves = |(i, change): (usize, &f64)| change.abs() > SETTLED * x[i].abs().max(system.scale()[i]);
            if round > 0 && !self.slope.iter().enumerate().any(moves) {
                break;
            }
        }
        Ok(self.first_step(system, newton, options, x))
    }

    /// A step over which no unknown moves by more than about the cube root of the tolerance, by the present slope.
    fn first_step(&mut self, system: &impl System, newton: &mut Newton, options: &Options, x: &[f64]) -> f64 {
        for (i, slope) in self.slope.iter_mut().enumerate() {
            *slope = if system.differential()[i] { -newton.at.f[i] } else { 0.0 };
        }
        newton.solve(&mut self.slope);
        let mut fastest = 0.0_f64;
        // Rows that are algebraic tell no slope of their own, and rounding in them would be taken for one.
        for (i, slope) in self.slope.iter().enumerate().filter(|&(i, _)| system.differential()[i]) {
            let size = x[i].abs().max(system.scale()[i] * options.atol_factor);
            fastest = fastest.max((slope / size).abs());
        }
        let step = options.rtol.cbrt() / fastest;
        if step.is_finite() { step } else { options.max_step }
    }
}
