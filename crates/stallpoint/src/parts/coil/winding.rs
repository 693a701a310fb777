//! A coil's winding with its faults, as equations over the values it lies on.

use super::super::suppression::Row;
use super::super::{Diode, Suppression};
use super::faults::SuppressorFault;
use crate::circuit::{At, Stamp, Tie, Unknown};

/// Share of the rated current below which a coil's current does not matter: drop-out is far above.
const MATTERS: f64 = 0.01;

/// Where an armature is, 0 open to 1 sealed, and how fast it moves, 1/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Position {
    pub(crate) value: f64,
    pub(crate) rate: f64,
}

impl Position {
    pub(crate) const OPEN: Self = Self { value: 0.0, rate: 0.0 };
    pub(crate) const SEALED: Self = Self { value: 1.0, rate: 0.0 };
}

/// Local values a coil lies on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Leads {
    pub(crate) plus: usize,
    pub(crate) minus: usize,
    pub(crate) flux: usize,
    pub(crate) suppressor: usize,
}

/// The current that makes the flux, and its derivatives by the flux and, where that is an unknown, by the position.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FluxCurrent {
    pub(crate) value: f64,
    pub(crate) by_flux: f64,
    pub(crate) by_position: Option<(usize, f64)>,
}

/// What is left of a coil with its faults.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Winding<'a> {
    /// Resistance, ohm, and core loss, S.
    pub(super) resistance: f64,
    pub(super) core_loss: f64,
    /// Inductances of the turns left, H.
    pub(super) open: f64,
    pub(super) sealed: f64,
    /// Share of the turns left.
    pub(super) turns: f64,
    pub(super) rated_current: f64,
    pub(super) suppression: &'a Suppression,
    pub(super) diode: &'a Diode,
    pub(super) suppressor: SuppressorFault,
}

impl Winding<'_> {
    fn inductance(&self, position: Position) -> f64 {
        self.open + (self.sealed - self.open) * position.value
    }

    /// The current by the flux where the inductance follows the position along a line.
    pub(crate) fn flux_current(&self, at: &At, leads: Leads, position: Position) -> FluxCurrent {
        let by_flux = 1.0 / self.inductance(position);
        FluxCurrent { value: at.x(leads.flux) * by_flux, by_flux, by_position: None }
    }

    /// What a current counts beside that of a good coil, for pull-in and drop-out: its ampere-turns.
    pub(crate) fn pull(&self, current: f64) -> f64 {
        current.abs() * self.turns
    }

    /// Share of the turns that carry the current.
    pub(crate) fn turns(&self) -> f64 {
        self.turns
    }

    /// Induced voltage per volt of `v - R i`, V/V.
    fn share(&self) -> f64 {
        1.0 / (1.0 + self.resistance * self.core_loss)
    }

    /// Its unknowns under the names given: flux linkage and suppressor current.
    pub(crate) fn unknowns_named(&self, flux: &'static str, suppressor: &'static str) -> [Unknown; 2] {
        let current = MATTERS * self.rated_current;
        [Unknown::fast(flux, "Wb", self.open * current), Unknown::fast(suppressor, "A", current)]
    }

    /// Adds the coil's equations.
    pub(crate) fn stamp(&self, at: &At, out: &mut Stamp, leads: Leads, i: FluxCurrent) {
        let Leads { plus, minus, flux, suppressor } = leads;
        let (r, g, share) = (self.resistance, self.core_loss, self.share());
        let (v, j) = (at.x(plus) - at.x(minus), at.x(suppressor));
        let emf = share * (v - r * i.value);

        let current = i.value + g * emf - j;
        for (terminal, sign) in [(plus, 1.0), (minus, -1.0)] {
            out.f(terminal, sign * current);
            out.df(terminal, plus, sign * g * share);
            out.df(terminal, minus, -sign * g * share);
            out.df(terminal, flux, sign * i.by_flux * share); // d(i + G e)/dλ, shortened
            out.df(terminal, suppressor, -sign);
            if let Some((column, slope)) = i.by_position {
                out.df(terminal, column, sign * slope * share);
            }
        }

        out.q(flux, at.x(flux));
        out.dq(flux, flux, 1.0);
        out.f(flux, -emf);
        out.df(flux, plus, -share);
        out.df(flux, minus, share);
        out.df(flux, flux, share * r * i.by_flux);
        if let Some((column, slope)) = i.by_position {
            out.df(flux, column, share * r * slope);
        }

        let row = self.suppressor_row(-v, j);
        out.f(suppressor, row.residual);
        out.df(suppressor, plus, -row.by_voltage);
        out.df(suppressor, minus, row.by_voltage);
        out.df(suppressor, suppressor, row.by_current);
    }

    /// Heat in winding, core and suppressor, W; work on the armature is not among it.
    pub(crate) fn heat(&self, at: &At, leads: Leads, current: f64) -> f64 {
        let (r, g) = (self.resistance, self.core_loss);
        let v = at.x(leads.plus) - at.x(leads.minus);
        let emf = self.share() * (v - r * current);
        let winding = current + g * emf;
        r * winding * winding + g * emf * emf - v * at.x(leads.suppressor)
    }

    /// Heat, and work on an armature that moves as told, W.
    pub(crate) fn lost(&self, at: &At, leads: Leads, position: Position) -> f64 {
        let i = self.flux_current(at, leads, position).value;
        self.heat(at, leads, i) + 0.5 * i * i * (self.sealed - self.open) * position.rate
    }

    /// Energy of its field where the inductance follows the position along a line, J.
    pub(crate) fn field(&self, at: &At, leads: Leads, position: Position) -> f64 {
        0.5 * at.x(leads.flux) * self.flux_current(at, leads, position).value
    }

    /// How it ties its terminals: a current that nothing damps cannot jump.
    pub(crate) fn tie(&self) -> Tie {
        let damped = match self.suppressor {
            SuppressorFault::Shorted => true,
            SuppressorFault::Missing => false,
            SuppressorFault::Healthy | SuppressorFault::Reversed => self.suppression.damps(),
        };
        if damped || self.core_loss > 0.0 { Tie::Conducts } else { Tie::Inductive }
    }

    fn suppressor_row(&self, u: f64, j: f64) -> Row {
        match self.suppressor {
            SuppressorFault::Healthy => self.suppression.row(self.diode, u, j),
            SuppressorFault::Shorted => Row::shorted(u, j),
            SuppressorFault::Reversed => {
                let row = self.suppression.row(self.diode, -u, -j);
                Row { residual: -row.residual, ..row }
            }
            SuppressorFault::Missing => Suppression::None.row(self.diode, u, j),
        }
    }
}
