//! What all motors with wound fields compute.

use super::armature::Armature;
use super::armature_equations::{Flux, Places};
use super::permanent_magnet::PROBES;
use super::poles::Poles;
use super::rotor::Rotor;
use crate::circuit::{At, DryFriction, Part, Power, Probe, Stamp, Terminal, Unknown};
use crate::error::PartError;

/// A motor with wound fields, reduced to what its equations need: its armature comes first among the terminals, then each
/// winding, then the shaft.
#[derive(Debug, Clone)]
pub struct WoundMachine {
    pub(super) kind: &'static str,
    pub(super) terminals: &'static [Terminal],
    pub(super) currents: &'static [&'static str],
    pub(super) armature: Armature,
    pub(super) rotor: Rotor,
    pub(super) poles: Poles,
}

/// A description that makes a [`WoundMachine`].
pub trait Wound: std::fmt::Debug + Clone + Send + Sync + 'static {
    /// In the trade's word.
    const KIND: &'static str;
    /// Armature, windings, shaft.
    const TERMINALS: &'static [Terminal];
    /// Names of the windings' currents.
    const CURRENTS: &'static [&'static str];

    /// Refuses parameters outside their range.
    ///
    /// # Errors
    /// The argument, its value and what is allowed.
    fn refuse(&self) -> Result<(), PartError>;

    /// The machine.
    ///
    /// # Errors
    /// As for [`refuse`](Wound::refuse).
    fn machine(&self) -> Result<WoundMachine, PartError>;
}

impl WoundMachine {
    fn shaft(&self) -> usize {
        self.terminals.len() - 1
    }

    fn places(&self) -> Places {
        self.armature.places(0, 1, self.shaft(), self.terminals.len())
    }

    fn flux(&self, at: &At, places: &Places) -> Flux {
        let (k, by, slope) = self.poles.constant(at, places.end);
        Flux { ke: k, kt: k, by: Some((by, slope)) }
    }
}

impl Part for WoundMachine {
    fn kind(&self) -> &'static str {
        self.kind
    }

    fn terminals(&self) -> &[Terminal] {
        self.terminals
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let mut own = self.armature.own_unknowns();
        own.extend(self.poles.own_unknowns(self.currents));
        own
    }

    fn paths(&self) -> Vec<crate::circuit::Path> {
        let conducts = |from| crate::circuit::path(from, from + 1, crate::circuit::Tie::Conducts);
        (0..=self.currents.len()).map(|winding| conducts(2 * winding)).collect()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (shaft, places) = (self.shaft(), self.places());
        self.armature.stamp(at, out, &places, &self.flux(at, &places));
        self.poles.stamp(at, out, places.end);
        let b = self.rotor.viscous_friction.si();
        out.f(shaft, b * at.x(shaft));
        out.df(shaft, shaft, b);
    }

    fn power(&self, at: &At) -> Power {
        let (omega, places) = (at.x(self.shaft()), self.places());
        let armature = self.armature.lost(at, &places, &self.flux(at, &places));
        let friction = self.rotor.viscous_friction.si() * omega * omega;
        Power { delivered: 0.0, dissipated: armature + self.poles.lost(at, places.end) + friction }
    }

    fn stored(&self, at: &At) -> f64 {
        let places = self.places();
        self.armature.field_energy(at, &places) + self.poles.energy(at, places.end)
    }

    fn probes(&self) -> &[Probe] {
        if self.armature.by_angle() { &PROBES } else { &PROBES[..3] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        let places = self.places();
        let flux = self.flux(at, &places);
        match index {
            0 => at.x(self.shaft()),
            1 => self.armature.torque(at, &places, &flux),
            2 => self.armature.emf(at, &places, &flux),
            _ => self.armature.angle(at, &places),
        }
    }

    fn inertia(&self) -> f64 {
        self.rotor.inertia.si()
    }

    fn dry_friction(&self) -> DryFriction {
        self.rotor.dry_friction()
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}

// A circuit computes with the machine that `boxed` gives it; the description itself is only asked for what follows. One that
// does not pass its check has no machine: it has no equations then, and no circuit takes it.
impl<W: Wound> Part for W {
    fn kind(&self) -> &'static str {
        W::KIND
    }

    fn terminals(&self) -> &[Terminal] {
        W::TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.refuse()
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.machine().map_or_else(|_| Vec::new(), |machine| machine.unknowns())
    }

    fn paths(&self) -> Vec<crate::circuit::Path> {
        self.machine().map_or_else(|_| Vec::new(), |machine| machine.paths())
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        if let Ok(machine) = self.machine() {
            machine.evaluate(at, out);
        }
    }

    fn power(&self, at: &At) -> Power {
        self.machine().map_or_else(|_| Power::default(), |machine| machine.power(at))
    }

    fn stored(&self, at: &At) -> f64 {
        self.machine().map_or(0.0, |machine| machine.stored(at))
    }

    fn probes(&self) -> &[Probe] {
        let angle = self.machine().is_ok_and(|machine| machine.armature.by_angle());
        if angle { &PROBES } else { &PROBES[..3] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        self.machine().map_or(f64::NAN, |machine| machine.probe(index, at))
    }

    fn inertia(&self) -> f64 {
        self.machine().map_or(0.0, |machine| machine.inertia())
    }

    fn dry_friction(&self) -> DryFriction {
        self.machine().map_or_else(|_| DryFriction::default(), |machine| machine.dry_friction())
    }

    fn boxed(&self) -> Box<dyn Part> {
        match self.machine() {
            Ok(machine) => Box::new(machine),
            Err(_) => Box::new(self.clone()),
        }
    }
}
