//! The problem the solver integrates.

use crate::sparse::Pattern;

/// Values of one evaluation of a [`System`]: `q`, `f` and, when asked for, their Jacobians.
///
/// The Jacobian entries are stored in the slots of the system's [`Pattern`].
#[derive(Debug, Clone)]
pub struct Evaluation {
    /// Conserved quantity of each row; zero in algebraic rows.
    pub q: Vec<f64>,
    /// Flow of each row.
    pub f: Vec<f64>,
    /// `dq/dx`, one value for each slot of the pattern.
    pub dq: Vec<f64>,
    /// `df/dx`, one value for each slot of the pattern.
    pub df: Vec<f64>,
}

impl Evaluation {
    /// Zeros for a system of `n` rows with `nonzeros` slots.
    pub fn new(n: usize, nonzeros: usize) -> Self {
        Self { q: vec![0.0; n], f: vec![0.0; n], dq: vec![0.0; nonzeros], df: vec![0.0; nonzeros] }
    }

    /// Sets every value to zero, the Jacobians only when `jacobian` is set.
    pub fn clear(&mut self, jacobian: bool) {
        self.q.fill(0.0);
        self.f.fill(0.0);
        if jacobian {
            self.dq.fill(0.0);
            self.df.fill(0.0);
        }
    }
}

/// Why a system changes its mode.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The guard of this index became positive.
    Guard(usize),
    /// A scheduled time was reached: every timer that is due now.
    Schedule,
}

/// A hybrid differential-algebraic system `d/dt q(x) + f(x, t, mode) = 0`.
///
/// The mode is the system's own discrete state. It changes only in [`System::fire`]; `q` stays continuous there, but for
/// resets that `fire` writes into `x` itself. The pattern never changes: a mode changes values, not structure.
pub trait System {
    /// Number of unknowns, which is the number of rows.
    fn size(&self) -> usize {
        self.pattern().n()
    }

    /// Union of the patterns of `dq/dx` and `df/dx`, with the whole diagonal.
    fn pattern(&self) -> &Pattern;

    /// Whether each row has a `q`. The others are algebraic and hold exactly at every stage.
    fn differential(&self) -> &[bool];

    /// Size of each unknown that matters: errors are measured against `rtol · max(|x|, scale)`.
    fn scale(&self) -> &[f64];

    /// Adds `q`, `f` (and with `jacobian` also `dq`, `df`) at `(t, x)` to the zeroed `out`.
    fn evaluate(&mut self, t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation);

    /// Number of guards; fixed.
    fn guard_count(&self) -> usize {
        0
    }

    /// Writes every guard at `(t, x)`. A guard fires where it is above zero; one that does not concern the present mode
    /// is negative.
    fn guards(&mut self, _t: f64, _x: &[f64], _out: &mut [f64]) {}

    /// The earliest scheduled time not yet fired, if any.
    fn next_stop(&self) -> Option<f64> {
        None
    }

    /// Changes the mode for `cause` at `(t, x)`; may write a declared reset into `x`. A guard that an earlier cause at
    /// the same instant made void must be ignored.
    fn fire(&mut self, _cause: Cause, _t: f64, _x: &mut [f64]) {}

    /// Name of an unknown, for messages.
    fn unknown_name(&self, index: usize) -> String {
        format!("unknown {index}")
    }

    /// Name of a row, for messages.
    fn equation_name(&self, index: usize) -> String {
        format!("equation {index}")
    }

    /// Name of a guard, for messages.
    fn guard_name(&self, index: usize) -> String {
        format!("guard {index}")
    }
}
