//! Magnet and springs in numbers.

use super::super::data::{RestPosition, ReversingContactor};
use super::description::MovingArmature;
use crate::error::PartError;

/// Everything an armature needs, in SI.
#[derive(Debug, Clone)]
pub(super) struct Mechanics {
    pub(super) travel: f64,
    pub(super) overtravel: f64,
    /// Armature without blade, blade, kg.
    pub(super) armature: f64,
    pub(super) blade: f64,
    /// Return spring at rest and its stiffness, N and N/m.
    pub(super) spring: f64,
    pub(super) stiffness: f64,
    /// Contact force at first touch and its stiffness.
    pub(super) contact_force: f64,
    pub(super) contact_stiffness: f64,
    open: f64,
    more: f64,
    shape: f64,
    saturation: f64,
    exponent: i32,
}

/// Largest shape tried: beyond it the magnet would pull over the last hundredth of its travel only.
const STEEPEST: f64 = 100.0;
const POINTS: u32 = 400;

impl Mechanics {
    pub(super) fn new(contactor: &ReversingContactor, detailed: &MovingArmature) -> Result<Self, PartError> {
        let braked = contactor.rest == RestPosition::Braked;
        detailed.check(braked)?;
        let coil = &contactor.coil;
        let (open, sealed, rated) = (coil.inductance_open(), coil.inductance_sealed(), coil.rated_current());
        let (gain, exponent) = (detailed.unsaturated_gain.si(), detailed.saturation_exponent);
        let more = gain * sealed - open;
        if !(more > 0.0) {
            return Err(PartError::Description {
                problem: "`coil.sealed_inductance` is not above the open one: the magnet would have no force".into(),
                advice: "give the inductances as measured, or leave them out".into(),
            });
        }
        let at_rated = sealed * rated;
        let mut own = Self {
            travel: detailed.travel.si(),
            overtravel: detailed.overtravel.si(),
            armature: 1.0,
            blade: 1.0,
            spring: 0.0,
            stiffness: 0.0,
            contact_force: 0.0,
            contact_stiffness: 0.0,
            open,
            more,
            shape: 0.0,
            saturation: rated * (1.0 - 1.0 / gain) / at_rated.powi(exponent),
            exponent,
        };
        let (rest, contact) = (detailed.return_spring_share.si(), detailed.contact_force_share.si());
        let rise = contact * detailed.contact_spring_rise.si();
        let over = own.overtravel / own.travel;
        // Net force against closing, over that at seal.
        let profile = |s: f64| {
            let spring = rest + (1.0 - contact - rise - rest) * s;
            let working = if s > 1.0 - over { contact + rise * (s - 1.0 + over) / over } else { 0.0 };
            let resting = if braked && s < over { contact + rise * (over - s) / over } else { 0.0 };
            spring + working - resting
        };
        let (pull_in, drop_out) = (contactor.pull_in_current(), contactor.drop_out_current());
        let steps = |over: f64| [over + 1e-9, 1.0 - over + 1e-9, 1.0];
        let worst = |own: &Self| {
            let holding = own.force(own.flux_at(drop_out, 1.0), 1.0);
            let points = (0..=POINTS).map(|k| f64::from(k) / f64::from(POINTS)).chain(steps(over));
            points.map(|s| profile(s) * holding / own.force(own.flux_at(pull_in, s), s)).fold(0.0, f64::max)
        };
        let (mut low, mut high) = (0.0, STEEPEST);
        for _ in 0..60 {
            own.shape = 0.5 * (low + high);
            if worst(&own) < 1.0 { low = own.shape } else { high = own.shape }
        }
        if !(low > 0.0 && high < STEEPEST * (1.0 - 1e-6)) {
            return Err(PartError::Description {
                problem: "no magnet of this kind pulls in at `pull_in_voltage` and drops out at `drop_out_voltage`"
                    .into(),
                advice: "bring the two closer together, or change the shares of the forces".into(),
            });
        }
        let total = own.force(own.flux_at(drop_out, 1.0), 1.0);
        own.spring = rest * total;
        own.stiffness = (1.0 - contact - rise - rest) * total / own.travel;
        own.contact_force = contact * total;
        own.contact_stiffness = rise * total / own.overtravel;
        let mean = own.spring + 0.5 * own.stiffness * own.travel;
        let by_release = 0.5 * mean * contactor.release_time.si().powi(2) / own.travel;
        let mass = detailed.mass.map_or(by_release, |mass| mass.si());
        own.blade = mass * detailed.blade_share.si();
        own.armature = mass - own.blade;
        Ok(own)
    }

    /// Inductance and its first two derivatives by `s`.
    fn inductance(&self, s: f64) -> [f64; 3] {
        let a = self.shape;
        let d = 1.0 + a * (1.0 - s);
        let first = self.more * (1.0 + a) / (d * d);
        [self.open + self.more * s / d, first, 2.0 * a * first / d]
    }

    /// Current of a flux, its derivatives by flux and by position (m).
    pub(super) fn current(&self, flux: f64, s: f64) -> (f64, f64, f64) {
        let [l, dl, _] = self.inductance(s);
        let bend = self.saturation * flux.powi(self.exponent - 1);
        let value = flux / l + bend * flux;
        (value, 1.0 / l + f64::from(self.exponent) * bend, -flux * dl / (l * l) / self.travel)
    }

    /// Magnetic force towards seal, N.
    pub(super) fn force(&self, flux: f64, s: f64) -> f64 {
        let [l, dl, _] = self.inductance(s);
        0.5 * (flux / l).powi(2) * dl / self.travel
    }

    /// Its derivatives by flux and by position (m).
    pub(super) fn force_slopes(&self, flux: f64, s: f64) -> (f64, f64) {
        let [l, dl, ddl] = self.inductance(s);
        let by_flux = flux / (l * l) * dl / self.travel;
        let by_s = 0.5 * flux * flux * (ddl / (l * l) - 2.0 * dl * dl / l.powi(3)) / self.travel;
        (by_flux, by_s / self.travel)
    }

    /// Energy of the field, J.
    pub(super) fn field(&self, flux: f64, s: f64) -> f64 {
        let bent = self.saturation * flux.powi(self.exponent + 1) / f64::from(self.exponent + 1);
        0.5 * flux * flux / self.inductance(s)[0] + bent
    }

    /// Flux of a current, by Newton's method from above.
    pub(super) fn flux_at(&self, current: f64, s: f64) -> f64 {
        let mut flux = current.abs() * self.inductance(s)[0];
        for _ in 0..60 {
            let (value, slope, _) = self.current(flux, s);
            flux -= (value - current.abs()) / slope;
        }
        flux
    }

    /// Force of the return spring towards rest at a travel, N.
    pub(super) fn spring_force(&self, x: f64) -> f64 {
        self.spring + self.stiffness * x
    }

    /// Energy of the return spring, J.
    pub(super) fn spring_energy(&self, x: f64) -> f64 {
        self.spring * x + 0.5 * self.stiffness * x * x
    }

    /// Contact force at a compression beyond first touch, N, and its energy, J.
    pub(super) fn contact(&self, compression: f64) -> (f64, f64) {
        let force = self.contact_force + self.contact_stiffness * compression;
        (force, self.contact_force * compression + 0.5 * self.contact_stiffness * compression * compression)
    }
}
