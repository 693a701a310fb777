//! Consistent values after a mode change, and a sensible step to go on with.

use crate::error::SolveError;
use crate::newton::{Freshness, Newton, Stage};
use crate::options::Options;
use crate::system::System;
use crate::weights::Weights;

/// Newton is solved to this fraction of an ordinary step's tolerance: what a jump gets wrong stays wrong.
const TOLERANCE: f64 = 1e-3;
const MAX_ITERATIONS: u64 = 100;

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
    /// Two implicit Euler steps: the first may leave an impulse in unknowns that only a derivative determines, the second
    /// removes it. That they move `q` on a little is wanted: a shaft that breaks away has a sign of its speed at once, and
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
        for _ in 0..2 {
            self.known.copy_from_slice(&newton.at.q);
            let stage = Stage::Implicit { c, known: &self.known };
            newton.iterate(system, stage, t, x, weights, TOLERANCE, Freshness::Always, MAX_ITERATIONS)?;
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
        for (i, slope) in self.slope.iter().enumerate() {
            let size = x[i].abs().max(system.scale()[i] * options.atol_factor);
            fastest = fastest.max((slope / size).abs());
        }
        let step = options.rtol.cbrt() / fastest;
        if step.is_finite() { step } else { options.max_step }
    }
}
