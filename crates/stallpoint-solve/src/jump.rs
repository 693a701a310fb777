//! Newton's method where the start may be far away: after a mode change, and for an equilibrium.
//!
//! A fresh Jacobian at each iteration, and a step is shortened until a further one would be smaller (the natural monotonicity
//! test of P. Deuflhard, Newton Methods for Nonlinear Problems, Springer 2004, section 3.3): what rises like an exponential and is
//! overshot would else throw the unknowns about for ever.

use crate::error::SolveError;
use crate::newton::{Attempt, Newton, Stage};
use crate::system::System;
use crate::weights::Weights;

/// Newton is solved to this fraction of an ordinary step's tolerance: what a jump gets wrong stays wrong.
const TOLERANCE: f64 = 1e-3;
const MAX_ITERATIONS: u64 = 100;
/// A step is halved down to this part, then taken as it is.
const SHORTEST: f64 = 1e-4;
/// Contraction above which it is asked whether rounding is all that is left.
const SLOW: f64 = 0.1;
/// A slope is as steep as another one down to this part of it.
const STEEP: f64 = 0.9;

/// Workspace of the iterations.
pub(crate) struct Jump {
    from: Vec<f64>,
    step: Vec<f64>,
    further: Vec<f64>,
    residual: Vec<f64>,
    slopes: Vec<f64>,
}

impl Jump {
    pub(crate) fn new(system: &impl System) -> Self {
        let zeros = || vec![0.0; system.size()];
        Self {
            from: zeros(),
            step: zeros(),
            further: zeros(),
            residual: zeros(),
            slopes: vec![0.0; system.pattern().nonzeros()],
        }
    }

    /// Moves `x` onto the equations of the stage and leaves its evaluation, with Jacobian, in `newton.at`.
    pub(crate) fn solve(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        stage: Stage,
        t: f64,
        x: &mut [f64],
        weights: &Weights,
    ) -> Attempt {
        newton.evaluate(system, t, x, true);
        newton.finite(system, t)?;
        for iteration in 1..=MAX_ITERATIONS {
            newton.factor(system, stage, t)?;
            newton.newton_step(system, stage, &mut self.step);
            self.from.copy_from_slice(x);
            self.slopes.copy_from_slice(&newton.at.df);
            let size = weights.norm(&self.step, &self.from, &self.from);
            if !size.is_finite() {
                return Err(self.not_converged(system, weights, t, iteration));
            }
            let (part, next) = self.shorten(system, newton, stage, t, x, weights, size);
            newton.finite(system, t)?;
            let near = next <= TOLERANCE && (size <= 1.0 || self.as_steep(&newton.at.df));
            if part == 1.0 && (near || next > SLOW * size && self.is_rounding(system, newton, stage, x)) || next == 0.0
            {
                // The further step is there already; with fast convergence it takes away what is left.
                x.iter_mut().zip(&self.further).for_each(|(x, further)| *x += further);
                newton.evaluate(system, t, x, true);
                return newton.finite(system, t);
            }
        }
        Err(self.not_converged(system, weights, t, MAX_ITERATIONS))
    }

    fn not_converged(&self, system: &impl System, weights: &Weights, t: f64, iterations: u64) -> SolveError {
        let unknown = system.unknown_name(weights.worst(&self.step, &self.from));
        SolveError::NotConverged { t, iterations, unknown }
    }

    /// Takes the part of the step after which a further one, with the same factors, is smaller; returns that part and the size
    /// of the further one.
    fn shorten(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        stage: Stage,
        t: f64,
        x: &mut [f64],
        weights: &Weights,
        size: f64,
    ) -> (f64, f64) {
        let mut part = 1.0;
        loop {
            for ((x, from), step) in x.iter_mut().zip(&self.from).zip(&self.step) {
                *x = from + part * step;
            }
            newton.evaluate(system, t, x, true);
            newton.newton_step(system, stage, &mut self.further);
            let next = weights.norm(&self.further, &self.from, &self.from);
            let nearer = next <= (1.0 - 0.25 * part) * size || self.is_rounding(system, newton, stage, x);
            if nearer || part <= SHORTEST {
                return (part, next);
            }
            part *= 0.5;
        }
    }

    /// Whether what is left of the equations is rounding.
    fn is_rounding(&mut self, system: &impl System, newton: &mut Newton, stage: Stage, x: &[f64]) -> bool {
        newton.residual(system, stage, &mut self.residual);
        newton.is_rounding(system, x, &self.residual)
    }

    /// Whether no slope is smaller than those that the factors were made of: a step by too steep a slope looks small.
    fn as_steep(&self, slopes: &[f64]) -> bool {
        self.slopes.iter().zip(slopes).all(|(before, now)| now.abs() >= STEEP * before.abs())
    }
}
