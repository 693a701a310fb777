//! One step of TR-BDF2: the trapezoidal rule to an inner point, then the second-order backward difference; its error
//! estimate is then taken off the end.
//!
//! Bank et al., "Transient simulation of silicon devices and circuits", IEEE Trans. Electron Devices 32 (1985) 1992;
//! error estimate and inner point after Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21. Both stages share one
//! matrix `dq + c df`; algebraic rows hold at each stage, so nothing rings after a jump.
//!
//! The estimate, filtered once by `(dq + c df)⁻¹`, controls the step. Filtered twice, `M⁻¹ dq M⁻¹ e`, it goes to zero for
//! stiff parts and is taken off the end (local extrapolation): for `x' = -λ x` the growth over a step becomes
//! `R(z) - E(z)/(1 + c λ)`, which stays within one on the whole left half plane and goes to zero at infinity (computed on
//! a grid; held by `tests/solver/stability.rs`), with a local error of fourth order in place of third. Once filtered, it
//! would go to -1.6 at infinity.

use crate::error::SolveError;
use crate::method::Outcome;
use crate::newton::{Freshness, Newton, Stage};
use crate::system::System;
use crate::weights::Weights;

/// The inner point, as a part of the step.
const MIDDLE: f64 = 2.0 - std::f64::consts::SQRT_2;
/// Factor of the step in both stages' matrix.
const C: f64 = MIDDLE / 2.0;
/// Weights of `q` at the inner point and at the start in the second stage.
const Q_MID: f64 = 1.0 / (MIDDLE * (2.0 - MIDDLE));
const Q_START: f64 = (1.0 - MIDDLE) * (1.0 - MIDDLE) / (MIDDLE * (2.0 - MIDDLE));
/// Weights of `f` in the difference between this method and its third-order companion.
const W: f64 = std::f64::consts::SQRT_2 / 4.0;
const ERROR: [f64; 3] = [(4.0 * W - 1.0) / 3.0, -1.0 / 3.0, MIDDLE / 3.0];

/// Newton is solved to this fraction of the error allowed in a step.
const NEWTON_TOLERANCE: f64 = 0.01;
const MAX_ITERATIONS: u64 = 10;

/// Newton steps that bring the end back onto the algebraic rows, at most, and the size below which none is worth it.
const PROJECTIONS: usize = 3;
const PROJECTED: f64 = 1e-4;

/// Largest value of `θ |θ - MIDDLE| |θ - 1|` in a step: by how much of the third difference a parabola misses.
const PARABOLA: f64 = 0.0628;
/// The dense output may miss by this many times the tolerance.
const DENSE: f64 = 3.0;

/// Workspace of the method.
pub(crate) struct TrBdf2 {
    q0: Vec<f64>,
    f0: Vec<f64>,
    f_mid: Vec<f64>,
    known: Vec<f64>,
    error: Vec<f64>,
    mid: Vec<f64>,
    pub(crate) x1: Vec<f64>,
    /// Coefficient of the dense output: the parabola through both ends and the inner point.
    pub(crate) bend: Vec<f64>,
    /// Slope and curvature of the last step, for the predictor.
    slope: Vec<f64>,
    curvature: Vec<f64>,
    last_step: f64,
    predict: bool,
}

impl TrBdf2 {
    pub(crate) fn new(n: usize) -> Self {
        let zeros = || vec![0.0; n];
        Self {
            q0: zeros(),
            f0: zeros(),
            f_mid: zeros(),
            known: zeros(),
            error: zeros(),
            mid: zeros(),
            x1: zeros(),
            bend: zeros(),
            slope: zeros(),
            curvature: zeros(),
            last_step: 0.0,
            predict: false,
        }
    }

    /// Takes `(t, x)`, where the mode has just changed, as the start of the next attempts.
    pub(crate) fn start(&mut self, system: &mut impl System, newton: &mut Newton, t: f64, x: &[f64]) {
        newton.evaluate(system, t, x, false);
        self.q0.copy_from_slice(&newton.at.q);
        self.f0.copy_from_slice(&newton.at.f);
        self.predict = false;
    }

    /// Attempts a step of length `h` from `(t, x0)`, leaving the result in `mid` and `x1`.
    pub(crate) fn attempt(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
        x0: &[f64],
        h: f64,
    ) -> Result<Outcome, SolveError> {
        let n = x0.len();
        let c = C * h;
        self.guess(x0, MIDDLE * h);
        for i in 0..n {
            self.known[i] = self.q0[i] - c * self.f0[i];
        }
        let stage = Stage::Implicit { c, known: &self.known };
        let t_mid = t + MIDDLE * h;
        newton.iterate(
            system,
            stage,
            t_mid,
            &mut self.mid,
            weights,
            NEWTON_TOLERANCE,
            Freshness::AtStart,
            MAX_ITERATIONS,
        )?;
        self.f_mid.copy_from_slice(&newton.at.f);
        for i in 0..n {
            self.known[i] = Q_MID * newton.at.q[i] - Q_START * self.q0[i];
        }
        self.guess_end(x0, h);
        let stage = Stage::Implicit { c, known: &self.known };
        newton.iterate(
            system,
            stage,
            t + h,
            &mut self.x1,
            weights,
            NEWTON_TOLERANCE,
            Freshness::WhenSlow,
            MAX_ITERATIONS,
        )?;
        for i in 0..n {
            self.error[i] = if system.differential()[i] {
                h * (ERROR[0] * self.f0[i] + ERROR[1] * self.f_mid[i] + ERROR[2] * newton.at.f[i])
            } else {
                0.0
            };
        }
        newton.solve(&mut self.error);
        let error = weights.error_norm(&self.error, &self.x1, x0);
        if error > 1.0 {
            let worst = weights.worst(&self.error, &self.x1);
            return Ok(Outcome { error, worst, dense: 0.0 });
        }
        // Filtered once more, the error can be taken off.
        system.pattern().multiply(&newton.at.dq, &self.error, &mut self.known);
        newton.solve(&mut self.known);
        for (value, correction) in self.x1.iter_mut().zip(&self.known) {
            *value += correction;
        }
        self.project(system, newton, weights, t + h)?;
        let dense = self.dense_error(weights, x0, h);
        for i in 0..n {
            let straight = x0[i] + MIDDLE * (self.x1[i] - x0[i]);
            self.bend[i] = (self.mid[i] - straight) / (MIDDLE * (1.0 - MIDDLE));
        }
        Ok(Outcome { error, worst: 0, dense })
    }

    /// Brings the end back onto the algebraic rows, which the correction left along their tangent, and leaves its
    /// evaluation in `newton.at`. Linear rows need nothing.
    fn project(
        &mut self,
        system: &mut impl System,
        newton: &mut Newton,
        weights: &Weights,
        t: f64,
    ) -> Result<(), SolveError> {
        newton.evaluate(system, t, &self.x1, false);
        newton.finite(system, t)?;
        if system.differential().iter().all(|&differential| differential) {
            return Ok(());
        }
        for _ in 0..PROJECTIONS {
            for i in 0..self.known.len() {
                self.known[i] = if system.differential()[i] { 0.0 } else { -newton.at.f[i] };
            }
            newton.solve(&mut self.known);
            if weights.norm(&self.known, &self.x1, &self.x1) < PROJECTED {
                break;
            }
            for (value, step) in self.x1.iter_mut().zip(&self.known) {
                *value += step;
            }
            newton.evaluate(system, t, &self.x1, false);
            newton.finite(system, t)?;
        }
        Ok(())
    }

    /// Error of the parabola through the step's points, by the third difference with the step before.
    ///
    /// The error estimate says nothing of unknowns that follow time itself: algebraic ones, and stiff ones whose error the
    /// method damps. They are right at the step's points however long it is, but between them only the parabola is known.
    fn dense_error(&mut self, weights: &Weights, x0: &[f64], h: f64) -> f64 {
        if !self.predict {
            return 0.0;
        }
        let (s, r) = (h / self.last_step, self.last_step / h);
        let share = PARABOLA / ((1.0 + (1.0 - MIDDLE) * r) * (1.0 + r));
        for i in 0..x0.len() {
            let carried_on = x0[i] + s * (self.slope[i] + s * self.curvature[i]);
            self.error[i] = share * (self.x1[i] - carried_on);
        }
        weights.error_norm(&self.error, &self.x1, x0) / DENSE
    }

    /// Keeps the end of the accepted step as the next start; `newton.at` holds its evaluation.
    pub(crate) fn accept(&mut self, newton: &Newton, x0: &[f64], h: f64) {
        self.q0.copy_from_slice(&newton.at.q);
        self.f0.copy_from_slice(&newton.at.f);
        for i in 0..x0.len() {
            let k = ((self.x1[i] - x0[i]) - (self.mid[i] - x0[i]) / MIDDLE) / (1.0 - MIDDLE);
            self.slope[i] = (self.x1[i] - x0[i]) + k;
            self.curvature[i] = k;
        }
        self.last_step = h;
        self.predict = true;
    }

    /// First guess at the inner point: the last parabola carried on, or the start itself.
    fn guess(&mut self, x0: &[f64], ahead: f64) {
        self.mid.copy_from_slice(x0);
        if self.predict {
            let s = ahead / self.last_step;
            if s < 8.0 {
                for i in 0..x0.len() {
                    self.mid[i] += s * (self.slope[i] + s * self.curvature[i]);
                }
            }
        }
    }

    /// First guess at the end: the parabola through start and inner point with the last curvature.
    fn guess_end(&mut self, x0: &[f64], h: f64) {
        let s = h / self.last_step;
        for i in 0..x0.len() {
            let mut value = x0[i] + (self.mid[i] - x0[i]) / MIDDLE;
            if self.predict && s < 8.0 {
                value += s * s * self.curvature[i] * (1.0 - MIDDLE);
            }
            self.x1[i] = value;
        }
    }
}
