//! The equations of one or more windings on common poles.

use super::field::Field;
use super::monotone::MonotoneCurve;
use crate::circuit::{At, Stamp, Unknown};

/// One winding: its terminals, resistance and turns relative to the one that the magnetisation is measured with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Winding {
    pub(super) plus: usize,
    pub(super) minus: usize,
    pub(super) resistance: f64,
    pub(super) turns: f64,
}

/// Windings on common poles.
///
/// `v_k = R_k i_k + n_k e`, `e = R_d (Σ n_k i_k - i_m) = dλ/dt`, `λ = λ(i_m)`.
#[derive(Debug, Clone)]
pub(super) struct Poles {
    pub(super) windings: Vec<Winding>,
    curve: MonotoneCurve,
    inductance: f64,
    leakage: f64,
    /// Slope of the curve at the origin.
    initial_slope: f64,
    damping: f64,
}

/// Share of the last measured field current above which a current matters.
const MATTERS: f64 = 0.01;

impl Poles {
    /// Poles with the magnetisation of a field that was checked, and these windings.
    pub(super) fn new(field: &Field, windings: Vec<Winding>) -> Result<Self, crate::error::PartError> {
        let curve = field.magnetisation.curve()?;
        let inductance = field.inductance.si();
        Ok(Self {
            windings,
            initial_slope: curve.at(0.0).1,
            curve,
            inductance,
            leakage: field.leakage.si(),
            damping: inductance / field.eddy_time.si(),
        })
    }

    /// Its unknowns: a current for each winding, the magnetising current, the flux linkage.
    pub(super) fn own_unknowns(&self, names: &[&'static str]) -> Vec<Unknown> {
        let nominal = (MATTERS * self.curve.end()).clamp(1e-3, 1.0);
        let mut own: Vec<Unknown> = names.iter().map(|name| Unknown::fast(name, "A", nominal)).collect();
        own.push(Unknown::fast("magnetising_current", "A", nominal));
        own.push(Unknown::fast("field_flux", "Wb", self.inductance * nominal));
        own
    }

    fn magnetising(&self, first: usize) -> usize {
        first + self.windings.len()
    }

    fn flux(&self, first: usize) -> usize {
        first + self.windings.len() + 1
    }

    /// Back-EMF constant, the index of the unknown that sets it, and its slope.
    pub(super) fn constant(&self, at: &At, first: usize) -> (f64, usize, f64) {
        let by = self.magnetising(first);
        let (k, slope, _) = self.curve.at(at.x(by));
        (k, by, slope)
    }

    /// Current that drives eddies, referred to the winding of the magnetisation curve, A.
    fn eddies(&self, at: &At, first: usize) -> f64 {
        let total: f64 = self.windings.iter().enumerate().map(|(k, winding)| winding.turns * at.x(first + k)).sum();
        total - at.x(self.magnetising(first))
    }

    /// Adds the equations; the own unknowns begin at `first`.
    pub(super) fn stamp(&self, at: &At, out: &mut Stamp, first: usize) {
        let (magnetising, flux) = (self.magnetising(first), self.flux(first));
        let emf = self.damping * self.eddies(at, first);
        for (k, winding) in self.windings.iter().enumerate() {
            let (row, n) = (first + k, winding.turns);
            crate::parts::branch_current(at, out, winding.plus, winding.minus, row);
            out.f(row, winding.resistance * at.x(row) + n * emf - at.x(winding.plus) + at.x(winding.minus));
            out.df(row, row, winding.resistance);
            for (j, other) in self.windings.iter().enumerate() {
                out.df(row, first + j, n * self.damping * other.turns);
            }
            out.df(row, magnetising, -n * self.damping);
            out.df(row, winding.plus, -1.0);
            out.df(row, winding.minus, 1.0);
            out.df(flux, row, -self.damping * n);
        }
        out.q(flux, at.x(flux));
        out.dq(flux, flux, 1.0);
        out.f(flux, -emf);
        out.df(flux, magnetising, self.damping);

        let (k, slope, _) = self.curve.at(at.x(magnetising));
        let main = (1.0 - self.leakage) * self.inductance / self.initial_slope;
        let stray = self.leakage * self.inductance;
        out.f(magnetising, stray * at.x(magnetising) + main * k - at.x(flux));
        out.df(magnetising, magnetising, stray + main * slope);
        out.df(magnetising, flux, -1.0);
    }

    /// Heat in windings and eddies, W.
    pub(super) fn lost(&self, at: &At, first: usize) -> f64 {
        let windings = self.windings.iter().enumerate();
        let copper: f64 = windings.map(|(k, winding)| winding.resistance * at.x(first + k) * at.x(first + k)).sum();
        let eddies = self.eddies(at, first);
        copper + self.damping * eddies * eddies
    }

    /// Energy of the field, J: `∫ i dλ = i λ - ∫ λ di`.
    pub(super) fn energy(&self, at: &At, first: usize) -> f64 {
        let i = at.x(self.magnetising(first));
        let (k, _, area) = self.curve.at(i);
        let main = (1.0 - self.leakage) * self.inductance / self.initial_slope;
        0.5 * self.leakage * self.inductance * i * i + main * (i * k - area)
    }
}
