//! Newton's method on the equations of one stage.

use crate::counters::Counters;
use crate::error::SolveError;
use crate::sparse::Lu;
use crate::system::{Evaluation, System};
use crate::weights::Weights;

/// The equations of a stage, in terms of `q` and `f` at the unknown `x`.
#[derive(Clone, Copy)]
pub(crate) enum Stage<'a> {
    /// `q(x) + c f(x) = known` in differential rows, `f(x) = 0` in the others.
    Implicit { c: f64, known: &'a [f64] },
    /// As `Implicit`, but the unknowns in `held` keep the values they have.
    ImplicitHeld { c: f64, known: &'a [f64], held: &'a [bool] },
    /// `f(x) = 0` in every row, but the unknowns in `held` keep the values they have.
    Equilibrium { held: &'a [bool] },
}

impl Stage<'_> {
    fn held(&self, row: usize) -> bool {
        match self {
            Stage::Implicit { .. } => false,
            Stage::ImplicitHeld { held, .. } | Stage::Equilibrium { held } => held[row],
        }
    }

    /// Residual of the stage, negated: the right-hand side of a Newton step.
    fn negative_residual(&self, differential: &[bool], at: &Evaluation, out: &mut [f64]) {
        if let Stage::Implicit { c, known } | Stage::ImplicitHeld { c, known, .. } = *self {
            let rows = out.iter_mut().zip(differential).zip(known).zip(&at.q).zip(&at.f);
            for ((((out, &differential), known), q), f) in rows {
                *out = if differential { known - q - c * f } else { -f };
            }
        } else {
            out.iter_mut().zip(&at.f).for_each(|(out, f)| *out = -f);
        }
        for i in (0..out.len()).filter(|&i| self.held(i)) {
            out[i] = 0.0;
        }
    }

    /// Jacobian of the stage; `with_content` says of each slot whether its row is differential.
    fn matrix(&self, system: &impl System, at: &Evaluation, with_content: &[bool], out: &mut [f64]) {
        if let Stage::Implicit { c, .. } | Stage::ImplicitHeld { c, .. } = *self {
            let slots = out.iter_mut().zip(with_content).zip(&at.dq).zip(&at.df);
            for (((out, &with_content), dq), df) in slots {
                let moved = dq + c * df;
                *out = if with_content { moved } else { *df };
            }
        } else {
            out.copy_from_slice(&at.df);
        }
        if matches!(self, Stage::Implicit { .. }) {
            return;
        }
        for (row, column, slot) in system.pattern().entries().filter(|&(row, ..)| self.held(row)) {
            out[slot] = f64::from(u8::from(row == column));
        }
    }
}

/// How eagerly the Jacobian is renewed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Freshness {
    /// Once at the start, and again when convergence is slow.
    AtStart,
    /// Only when convergence is slow: the factors of a neighbouring stage serve.
    WhenSlow,
}

/// Workspace of the Newton iterations of one system.
pub(crate) struct Newton {
    lu: Lu,
    matrix: Vec<f64>,
    /// Whether the row of each slot is differential.
    with_content: Vec<bool>,
    step: Vec<f64>,
    /// Ratio of second to first Newton step to expect, by stage (of the inner point, of the end); 1 when not known.
    contraction: [f64; 2],
    pub(crate) at: Evaluation,
    pub(crate) counters: Counters,
}

/// An expected contraction is trusted less each time it is used instead of measured: its 0.8th power, as in E. Hairer and
/// G. Wanner, Solving Ordinary Differential Equations II, section IV.8.
const DISTRUST: f64 = 0.8;

/// Residual that rounding may leave, as a part of the row's terms. Own choice, no source.
const ROUNDING: f64 = 1e-13;

/// Why an attempt failed; `System` errors keep their names for the caller to raise when it cannot shorten the step.
pub(crate) type Attempt = Result<(), SolveError>;

impl Newton {
    pub(crate) fn new(system: &impl System) -> Result<Self, SolveError> {
        let pattern = system.pattern();
        let lu = Lu::new(pattern).map_err(|error| SolveError::structure(&error, system))?;
        let (n, nonzeros) = (pattern.n(), pattern.nonzeros());
        Ok(Self {
            lu,
            matrix: vec![0.0; nonzeros],
            with_content: pattern.entries().map(|(row, ..)| system.differential()[row]).collect(),
            step: vec![0.0; n],
            contraction: [1.0; 2],
            at: Evaluation::new(n, nonzeros),
            counters: Counters::default(),
        })
    }

    /// Evaluates the system into `self.at`.
    pub(crate) fn evaluate(&mut self, system: &mut impl System, t: f64, x: &[f64], jacobian: bool) {
        self.at.clear(jacobian);
        system.evaluate(t, x, jacobian, &mut self.at);
        self.counters.evaluations += 1;
        self.counters.jacobians += u64::from(jacobian);
    }

    /// Factors the matrix of the stage at the last evaluation with Jacobian.
    pub(crate) fn factor(&mut self, system: &impl System, stage: Stage, t: f64) -> Attempt {
        stage.matrix(system, &self.at, &self.with_content, &mut self.matrix);
        self.factor_matrix(system, t)
    }

    fn factor_matrix(&mut self, system: &impl System, t: f64) -> Attempt {
        self.counters.factorisations += 1;
        let done = self.lu.factor(&self.matrix);
        self.counters.repivots = self.lu.repivots();
        done.map_err(|error| SolveError::factor(&error, t, system))
    }

    /// Factors `dq + c df` (in algebraic rows `df`) of an evaluation.
    pub(crate) fn factor_stage(&mut self, system: &impl System, at: &Evaluation, c: f64, t: f64) -> Attempt {
        Stage::Implicit { c, known: &[] }.matrix(system, at, &self.with_content, &mut self.matrix);
        self.factor_matrix(system, t)
    }

    /// Factors `dq + c df` (in algebraic rows `df`) of the last evaluation with Jacobian.
    pub(crate) fn factor_here(&mut self, system: &impl System, c: f64, t: f64) -> Attempt {
        self.factor(system, Stage::Implicit { c, known: &[] }, t)
    }

    /// The residual of a stage at the last evaluation, negated.
    pub(crate) fn residual(&self, system: &impl System, stage: Stage, out: &mut [f64]) {
        stage.negative_residual(system.differential(), &self.at, out);
    }

    /// The Newton step from the last evaluation, with the present factors.
    pub(crate) fn newton_step(&mut self, system: &impl System, stage: Stage, out: &mut [f64]) {
        self.residual(system, stage, out);
        self.counters.newton_iterations += 1;
        self.solve(out);
    }

    /// Whether a residual of the last evaluation, row by row, is no more than the rounding of its terms in the matrix that was
    /// factored last.
    pub(crate) fn is_rounding(&mut self, system: &impl System, x: &[f64], residual: &[f64]) -> bool {
        let terms = &mut self.step; // free between iterations
        terms.fill(0.0);
        for (row, column, slot) in system.pattern().entries() {
            terms[row] += (self.matrix[slot] * x[column]).abs();
        }
        residual.iter().zip(&*terms).all(|(residual, terms)| residual.abs() <= ROUNDING * terms)
    }

    /// Solves with the present factors, in place.
    pub(crate) fn solve(&mut self, b: &mut [f64]) {
        self.counters.solves += 1;
        self.lu.solve(b);
    }

    /// Forgets how fast earlier stages converged: after a jump they tell nothing.
    pub(crate) fn forget(&mut self) {
        self.contraction = [1.0; 2];
    }

    /// Improves `x` until a Newton step is below `tolerance` in units of `weights`, then leaves the evaluation at the
    /// final `x` in `self.at` (without Jacobian).
    pub(crate) fn iterate(
        &mut self,
        system: &mut impl System,
        stage: Stage,
        t: f64,
        x: &mut [f64],
        weights: &Weights,
        tolerance: f64,
        freshness: Freshness,
        max_iterations: u64,
    ) -> Attempt {
        let mut fresh_wanted = freshness == Freshness::AtStart;
        let mut last = f64::INFINITY;
        let stage_kind = match freshness {
            Freshness::AtStart => 0,
            Freshness::WhenSlow => 1,
        };
        for iteration in 0..max_iterations {
            self.evaluate(system, t, x, fresh_wanted);
            self.finite(system, t)?;
            let renewed = fresh_wanted;
            if fresh_wanted {
                self.factor(system, stage, t)?;
                fresh_wanted = false;
            }
            let mut step = std::mem::take(&mut self.step);
            self.newton_step(system, stage, &mut step);
            self.step = step;
            let mut size = 0.0_f64;
            for (i, (value, step)) in x.iter_mut().zip(&self.step).enumerate() {
                *value += step;
                let relative = (step / weights.at(i, *value)).abs();
                // NaN must not look small, and a later number must not hide it.
                if relative > size || relative.is_nan() {
                    size = if relative.is_nan() { f64::INFINITY } else { relative };
                }
            }
            if !size.is_finite() {
                return Err(self.not_converged(system, t, iteration + 1, x, weights));
            }
            let rate = size / last;
            // The error left is about rate/(1 - rate) times the step just made; after a first step the rate is the one
            // to expect from the stages before.
            let expected = if iteration == 0 { self.contraction[stage_kind] } else { rate };
            let share = if expected < 0.5 { expected / (1.0 - expected) } else { 1.0 };
            if iteration == 0 {
                self.contraction[stage_kind] = expected.max(f64::EPSILON).powf(DISTRUST);
            } else if iteration == 1 {
                self.contraction[stage_kind] = rate.min(1.0);
            }
            if rate < 1.0 && size * share <= tolerance || size == 0.0 {
                self.evaluate(system, t, x, false);
                return self.finite(system, t);
            }
            if rate > 0.3 && iteration > 0 && !renewed {
                fresh_wanted = true;
            }
            if rate > 2.0 && renewed {
                return Err(self.not_converged(system, t, iteration + 1, x, weights));
            }
            last = size;
        }
        Err(self.not_converged(system, t, max_iterations, x, weights))
    }

    /// Refuses an evaluation that is not a number.
    pub(crate) fn finite(&self, system: &impl System, t: f64) -> Attempt {
        // What is not finite stays so when it is multiplied by zero: no branches while all is well.
        let sum: f64 = self.at.f.iter().zip(&self.at.q).map(|(f, q)| 0.0 * f + 0.0 * q).sum();
        if sum == 0.0 {
            return Ok(());
        }
        match self.at.f.iter().zip(&self.at.q).position(|(f, q)| !(f.is_finite() && q.is_finite())) {
            Some(row) => Err(SolveError::NotFinite { t, equation: system.equation_name(row) }),
            None => Ok(()),
        }
    }

    fn not_converged(&self, system: &impl System, t: f64, iterations: u64, x: &[f64], weights: &Weights) -> SolveError {
        SolveError::NotConverged { t, iterations, unknown: system.unknown_name(weights.worst(&self.step, x)) }
    }
}
