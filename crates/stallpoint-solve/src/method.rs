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
    /// The unknown with the largest error, where that is above one.
    pub(crate) worst: usize,
}

/// The method in use and the one to fall back on, with their workspaces.
pub(crate) struct Stepper {
    fifth: Option<Box<Rosenbrock>>,
    second: Option<Box<TrBdf2>>,
    use_second: bool,
}

impl Stepper {
    pub(crate) fn new(system: &impl System, options: &Options) -> Self {
        match options.method {
            Method::Automatic => {
                Self { fifth: Some(Box::new(Rosenbrock::new(system))), second: None, use_second: false }
            }
            Method::SecondOrder => {
                Self { fifth: None, second: Some(Box::new(TrBdf2::new(system.size()))), use_second: true }
            }
        }
    }

    /// Power of the step that its local error follows.
    pub(crate) fn error_power(&self) -> f64 {
        if self.use_second { 3.0 } else { 5.0 }
    }

    /// End of the last attempt.
    pub(crate) fn x1(&self) -> &[f64] {
        match (&self.fifth, &self.second) {
            (Some(method), _) if !self.use_second => &method.x1,
            (_, Some(method)) => &method.x1,
            _ => &[],
        }
    }

    /// Coefficients of its dense output.
    pub(crate) fn bend(&self) -> &[f64] {
        match (&self.fifth, &self.second) {
            (Some(method), _) if !self.use_second => &method.bend,
            (_, Some(method)) => &method.bend,
            _ => &[],
        }
    }

    /// Takes `(t, x)`, where the mode has just changed, as the start of the next attempts.
    pub(crate) fn start(&mut self, system: &mut impl System, newton: &mut Newton, t: f64, x: &[f64]) {
        match &mut self.fifth {
            Some(method) => {
                self.use_second = false;
                method.start(system, newton, t, x);
            }
            None => self.second_method(x.len()).start(system, newton, t, x),
        }
    }

    /// Goes on with the second-order method until the next start, where steps of the fifth-order one do not succeed; false
    /// when that is so already.
    pub(crate) fn fall_back(&mut self, system: &mut impl System, newton: &mut Newton, t: f64, x: &[f64]) -> bool {
        if self.use_second {
            return false;
        }
        self.use_second = true;
        self.second_method(x.len()).start(system, newton, t, x);
        true
    }

    /// Attempts a step of length `h` from `(t, x0)`. A system whose content turns out not to be linear goes on with the
    /// second-order method for good.
    pub(crate) fn attempt(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        x0: &[f64],
        h: f64,
    ) -> Result<Outcome, SolveError> {
        if let Some(method) = self.fifth.as_mut().filter(|_| !self.use_second) {
            if let Attempt::Step(outcome) = method.attempt(system, newton, weights, t, x0, h)? {
                return Ok(outcome);
            }
            self.fifth = None;
            self.fall_back(system, newton, t, x0);
        }
        self.second_method(x0.len()).attempt(system, newton, weights, t, x0, h)
    }

    /// Keeps the end of the accepted step as the next start; `newton.at` holds its evaluation.
    pub(crate) fn accept(&mut self, system: &impl System, newton: &mut Newton, x0: &[f64], h: f64) {
        match self.fifth.as_mut().filter(|_| !self.use_second) {
            Some(method) => method.accept(system, newton),
            None => self.second_method(x0.len()).accept(newton, x0, h),
        }
    }

    fn second_method(&mut self, n: usize) -> &mut TrBdf2 {
        self.second.get_or_insert_with(|| Box::new(TrBdf2::new(n)))
    }
}
