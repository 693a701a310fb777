//! Consistent values after a mode change, and a sensible step to go on with.

use crate::error::SolveError;
use crate::jump::Jump;
use crate::newton::{Newton, Stage};
use crate::options::Options;
use crate::system::System;
use crate::weights::Weights;

/// Each Euler step is this many times as long as the one before, and the longest this many times as long as the first.
const GROWTH: f64 = 10.0;
const LONGEST: f64 = 1e3;
/// Steps at most where they cannot grow.
const MOST_STEPS: usize = 8;
/// A change over a step, or what of it is not even motion, that lets them end, in units of an ordinary step's tolerance.
const SETTLED: f64 = 0.01;

/// What comes of a restart.
pub(crate) struct Settled {
    /// A first step length.
    pub(crate) first_step: f64,
    /// How much later than asked for the unknowns are consistent.
    pub(crate) ahead: f64,
}

/// Workspace of the restarts.
pub(crate) struct Restart {
    jump: Jump,
    known: Vec<f64>,
    before: Vec<f64>,
    /// Change of the unknowns over the last Euler step, by time.
    slope: Vec<f64>,
    /// Change over the last Euler step that the one before does not explain.
    uneven: Vec<f64>,
}

impl Restart {
    pub(crate) fn new(system: &impl System) -> Self {
        let zeros = || vec![0.0; system.size()];
        Self { jump: Jump::new(system), known: zeros(), before: zeros(), slope: zeros(), uneven: zeros() }
    }

    /// Makes `x`, of which only `q` is to be kept, consistent at `t` or very little later.
    ///
    /// By implicit Euler steps, which keep the balance of `q` exactly: the first may leave an impulse in unknowns that only a
    /// derivative determines, the second removes it. More while something still settles, as a current against the leak of a
    /// cut does, each longer than the one before, so that what settles in less than them all is passed over. That they are real
    /// time is wanted: a shaft that breaks away has a sign of its speed after them, and not one of rounding that a guard at
    /// zero would take for a stop.
    pub(crate) fn consistent(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        options: &Options,
        t: f64,
        x: &mut [f64],
    ) -> Result<Settled, SolveError> {
        newton.counters.restarts += 1;
        newton.forget();
        let longest = LONGEST * options.restart_step * (1.0 + f64::EPSILON);
        let mut c = options.restart_step;
        let mut growth = GROWTH;
        let mut took = 0.0;
        let mut steps = 0;
        newton.evaluate(system, t, x, false);
        loop {
            self.known.copy_from_slice(&newton.at.q);
            self.before.copy_from_slice(x);
            let stage = Stage::Implicit { c, known: &self.known };
            match self.jump.solve(system, newton, stage, t, x, weights) {
                Ok(()) => (),
                Err(error) if steps == 0 || (steps == 1 && growth == 1.0) => return Err(error),
                Err(_) => {
                    x.copy_from_slice(&self.before);
                    newton.evaluate(system, t, x, true);
                    if steps > 1 {
                        newton.factor_here(system, c, t)?;
                        break; // what has settled so far serves
                    }
                    // From an impulse that the first step left, one of the same length goes back more easily.
                    (c, growth) = (options.restart_step, 1.0);
                    continue;
                }
            }
            took += c;
            steps += 1;
            let settled = self.settled(weights, c, steps, x);
            if steps > 1 && (settled || steps >= MOST_STEPS || growth * c > longest) {
                break;
            }
            c *= growth;
        }
        Ok(Settled { first_step: self.first_step(system, newton, options, x), ahead: took })
    }

    /// Whether the last Euler step, of length `c`, changed nothing or went on as the one before.
    fn settled(&mut self, weights: &Weights, c: f64, steps: usize, x: &[f64]) -> bool {
        let changes = self.slope.iter_mut().zip(&mut self.uneven).zip(&mut self.before).zip(x);
        for (((slope, uneven), change), x) in changes {
            *change = x - *change;
            *uneven = *change - c * *slope;
            *slope = *change / c;
        }
        let small = |change: &[f64]| weights.norm(change, x, x) <= SETTLED;
        small(&self.before) || steps > 2 && small(&self.uneven)
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
