//! The integration method of a run.

use crate::error::SolveError;
use crate::newton::Newton;
use crate::options::{Method, Options};
use crate::rosenbrock::{Attempt, Rosenbrock};
use crate::system::System;
use crate::trbdf2::TrBdf2;
use crate::weights::Weights;

/// A converged attempt.
pub(crate) struct Outcome {
    /// Its error in units of the tolerance.
    pub(crate) error: f64,
    /// Error of the dense output in units of what it may be; zero where nothing tells it.
    pub(crate) dense: f64,
    /// The unknown with the largest error.
    pub(crate) worst: usize,
}

/// The method in use, with its workspace.
pub(crate) enum Stepper {
    Fifth(Box<Rosenbrock>),
    Second(Box<TrBdf2>),
}

impl Stepper {
    pub(crate) fn new(system: &impl System, options: &Options) -> Self {
        match options.method {
            Method::Automatic | Method::FifthOrder => Self::Fifth(Box::new(Rosenbrock::new(system))),
            Method::SecondOrder => Self::Second(Box::new(TrBdf2::new(system.size()))),
        }
    }

    /// Power of the step that its local error follows.
    pub(crate) fn error_power(&self) -> f64 {
        match self {
            Self::Fifth(_) => 5.0,
            Self::Second(_) => 3.0,
        }
    }

    /// End of the last attempt.
    pub(crate) fn x1(&self) -> &[f64] {
        match self {
            Self::Fifth(method) => &method.x1,
            Self::Second(method) => &method.x1,
        }
    }

    /// Coefficients of its dense output.
    pub(crate) fn bend(&self) -> &[f64] {
        match self {
            Self::Fifth(method) => &method.bend,
            Self::Second(method) => &method.bend,
        }
    }

    /// Takes `(t, x)`, where the mode has just changed, as the start of the next attempts.
    pub(crate) fn start(&mut self, system: &mut impl System, newton: &mut Newton, t: f64, x: &[f64]) {
        match self {
            Self::Fifth(method) => method.start(system, newton, t, x),
            Self::Second(method) => method.start(system, newton, t, x),
        }
    }

    /// Attempts a step of length `h` from `(t, x0)`. A system whose content turns out not to be linear goes on with the
    /// second-order method.
    pub(crate) fn attempt(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        x0: &[f64],
        h: f64,
    ) -> Result<Outcome, SolveError> {
        if let Self::Fifth(method) = self {
            match method.attempt(system, newton, weights, t, x0, h)? {
                Attempt::Step { error, dense, worst } => return Ok(Outcome { error, dense, worst }),
                Attempt::NotLinear => {
                    *self = Self::Second(Box::new(TrBdf2::new(x0.len())));
                    self.start(system, newton, t, x0);
                }
            }
        }
        match self {
            Self::Second(method) => method.attempt(system, newton, weights, t, x0, h),
            Self::Fifth(_) => Ok(Outcome { error: f64::INFINITY, dense: 0.0, worst: 0 }),
        }
    }

    /// Keeps the end of the accepted step as the next start; `newton.at` holds its evaluation.
    pub(crate) fn accept(&mut self, system: &impl System, newton: &mut Newton, x0: &[f64], h: f64) {
        match self {
            Self::Fifth(method) => method.accept(system, newton),
            Self::Second(method) => method.accept(newton, x0, h),
        }
    }
}
