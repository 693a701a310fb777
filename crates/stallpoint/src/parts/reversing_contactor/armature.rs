//! The armatures in quick fidelity: phases with fixed times.
//!
//! Only this file knows how an armature moves; a detailed one would answer the same questions from its position.

use std::borrow::Cow;

use super::super::Contact;
use super::super::coil::Position;
use super::data::{RestPosition, ReversingContactor};
use super::faults::{ArmatureFault, ContactFault};
use super::layout::{
    ARMATURE_NUMBERS, ENDS, GROUND_A, GROUND_B, NEXT_BOUNCE, PHASE, SINCE, SITES, SUPPLY_A, SUPPLY_B, armature_numbers,
    contact_current, contact_numbers,
};
use crate::circuit::{At, Change, Memory};
use crate::quantity::Resistance;

/// Phases, as the memory stores them.
pub(super) const REST: f64 = 0.0;
pub(super) const PULL: f64 = 1.0;
pub(super) const SEALED: f64 = 2.0;
pub(super) const RELEASE: f64 = 3.0;

/// Names of the two sets.
const LETTER: [char; 2] = ['A', 'B'];

impl ReversingContactor {
    /// Numbers of an armature in a phase with nothing to come.
    fn armature_in(&self, phase: f64) -> [f64; ARMATURE_NUMBERS] {
        [phase, f64::NEG_INFINITY, f64::INFINITY, self.bounce.len() as f64]
    }

    /// Memory with the armatures in phases with nothing to come, unless they are stuck.
    pub(super) fn memory_in(&self, phases: [f64; 2]) -> Memory {
        let stuck = |armature: usize| match self.faults.armature(armature) {
            ArmatureFault::Healthy => phases[armature],
            ArmatureFault::StuckOpen => REST,
            ArmatureFault::StuckClosed => SEALED,
        };
        let phases = [stuck(0), stuck(1)];
        let closed = |contact: usize| {
            let by = |armature: usize| {
                let contacts =
                    if phases[armature] == SEALED { self.made_by(armature) } else { self.rested_by(armature) };
                contacts.contains(&contact)
            };
            self.is_welded(contact) || (self.can_close(contact) && (by(0) || by(1)))
        };
        let contacts = (0..SITES.len()).flat_map(|contact| Contact::rest(closed(contact)));
        let armatures = phases.into_iter().flat_map(|phase| self.armature_in(phase));
        Memory::new(0, contacts.chain(armatures).collect::<Vec<f64>>())
    }

    /// Memory with one armature sealed and at ease (A when `forward`), the other at rest: the contactor held closed.
    pub(crate) fn sealed_memory(&self, forward: bool) -> Memory {
        if let Ok(Some(moving)) = self.moving() {
            return moving.sealed_memory(forward);
        }
        self.memory_in(if forward { [SEALED, REST] } else { [REST, SEALED] })
    }

    /// Contacts an armature closes when it seals.
    pub(super) fn made_by(&self, armature: usize) -> &'static [usize] {
        match (self.rest, armature) {
            (RestPosition::Braked, 0) => &[SUPPLY_A],
            (RestPosition::Braked, _) => &[SUPPLY_B],
            (RestPosition::Open, 0) => &[SUPPLY_A, GROUND_B],
            (RestPosition::Open, _) => &[GROUND_A, SUPPLY_B],
        }
    }

    /// Contacts an armature keeps closed at rest.
    pub(super) fn rested_by(&self, armature: usize) -> &'static [usize] {
        match (self.rest, armature) {
            (RestPosition::Braked, 0) => &[GROUND_A],
            (RestPosition::Braked, _) => &[GROUND_B],
            (RestPosition::Open, _) => &[],
        }
    }

    /// Phase of an armature.
    pub(super) fn phase(memory: &[f64], armature: usize) -> f64 {
        memory[armature_numbers(armature)][PHASE]
    }

    /// Whether an armature is at rest and free to be pulled in.
    pub(super) fn may_pull(&self, memory: &[f64], armature: usize) -> bool {
        let barred = self.interlock && Self::phase(memory, 1 - armature) != REST;
        Self::phase(memory, armature) == REST && !barred && self.faults.armature(armature).is_healthy()
    }

    /// Whether an armature is sealed and free to let go.
    pub(super) fn may_drop(&self, memory: &[f64], armature: usize) -> bool {
        Self::phase(memory, armature) == SEALED && self.faults.armature(armature).is_healthy()
    }

    /// Where an armature is at `t`.
    pub(super) fn position(&self, t: f64, memory: &[f64], armature: usize) -> Position {
        let own = &memory[armature_numbers(armature)];
        let travel = |over: f64| {
            let u = ((t - own[SINCE]) / over).clamp(0.0, 1.0);
            Position { value: u * u * (3.0 - 2.0 * u), rate: 6.0 * u * (1.0 - u) / over }
        };
        match own[PHASE] {
            REST => Position::OPEN,
            PULL => travel(self.operate_time.si()),
            SEALED => Position::SEALED,
            _ => {
                let Position { value, rate } = travel(self.release_time.si());
                Position { value: 1.0 - value, rate: -rate }
            }
        }
    }

    /// The next time at which an armature does something of itself: arrives or bounces.
    pub(super) fn armature_time(&self, memory: &[f64], armature: usize) -> f64 {
        let own = &memory[armature_numbers(armature)];
        let bounce = self.bounce.get(own[NEXT_BOUNCE] as usize).map_or(f64::INFINITY, |time| own[SINCE] + time.si());
        own[ENDS].min(bounce)
    }

    /// Pulls an armature in from rest.
    pub(super) fn pull(&self, armature: usize, at: &At, change: &mut Change) {
        if !self.may_pull(&change.memory.numbers, armature) {
            return;
        }
        self.enter(PULL, self.operate_time.si(), armature, at.t, change);
        change.event(format!("coil {} pulls in", LETTER[armature]));
        let resting = self.rested_by(armature);
        if !resting.is_empty() {
            change.event(if resting.iter().any(|&contact| self.is_welded(contact)) {
                format!("set {} sticks to ground", LETTER[armature])
            } else {
                format!("set {} leaves ground", LETTER[armature])
            });
        }
        self.open(self.rested_by(armature), at, change);
    }

    /// Lets a sealed armature go.
    pub(super) fn drop(&self, armature: usize, at: &At, change: &mut Change) {
        if !self.may_drop(&change.memory.numbers, armature) {
            return;
        }
        self.enter(RELEASE, self.release_time.si(), armature, at.t, change);
        change.event(format!("coil {} drops out", LETTER[armature]));
        let welded = self.made_by(armature).iter().any(|&contact| self.is_welded(contact));
        change.event(format!("set {} {}", LETTER[armature], if welded { "stays welded" } else { "breaks" }));
        self.open(self.made_by(armature), at, change);
    }

    /// Does what an armature has due at `at.t`.
    pub(super) fn armature_due(&self, armature: usize, at: &At, change: &mut Change) {
        while self.armature_time(&change.memory.numbers, armature) <= at.t {
            let own = &change.memory.numbers[armature_numbers(armature)];
            if own[ENDS] <= at.t {
                self.arrive(armature, at, change);
            } else {
                self.toggle(armature, at, change);
            }
        }
    }

    fn arrive(&self, armature: usize, at: &At, change: &mut Change) {
        let pulled = Self::phase(&change.memory.numbers, armature) == PULL;
        let letter = LETTER[armature];
        let (phase, closing) = if pulled { (SEALED, self.made_by(armature)) } else { (REST, self.rested_by(armature)) };
        self.enter(phase, f64::INFINITY, armature, at.t, change);
        // Bounces follow only where something closes.
        let closes = closing.iter().any(|&contact| self.can_close(contact));
        let first = if closes { 0.0 } else { self.bounce.len() as f64 };
        change.memory.numbers[armature_numbers(armature)][NEXT_BOUNCE] = first;
        self.close(closing, change);
        change.event(match (pulled, self.rest) {
            _ if !closes && !closing.is_empty() => format!("set {letter} does not make"),
            (true, _) => format!("set {letter} makes"),
            (false, RestPosition::Braked) => format!("set {letter} back on ground"),
            (false, RestPosition::Open) => format!("set {letter} back at rest"),
        });
    }

    /// The next toggle of a bounce: those with even numbers open, the others close.
    fn toggle(&self, armature: usize, at: &At, change: &mut Change) {
        let own = &mut change.memory.numbers[armature_numbers(armature)];
        let opens = (own[NEXT_BOUNCE] as usize).is_multiple_of(2);
        own[NEXT_BOUNCE] += 1.0;
        let sealed = own[PHASE] == SEALED;
        let contacts = if sealed { self.made_by(armature) } else { self.rested_by(armature) };
        if opens {
            change.event(format!("set {} bounces", LETTER[armature]));
            self.open(contacts, at, change);
        } else {
            self.close(contacts, change);
        }
    }

    /// Closes those of `contacts` that can.
    fn close(&self, contacts: &[usize], change: &mut Change) {
        for &contact in contacts.iter().filter(|&&contact| self.can_close(contact)) {
            Contact::close(&mut change.memory.numbers[contact_numbers(contact)]);
        }
    }

    /// Opens those of `contacts` that are closed; one that carries a current draws an arc.
    fn open(&self, contacts: &[usize], at: &At, change: &mut Change) {
        for &contact in contacts {
            let numbers = &mut change.memory.numbers[contact_numbers(contact)];
            if !Contact::is_closed(numbers) || self.is_welded(contact) {
                continue;
            }
            self.contact(contact).part(at.t, at.x(contact_current(contact)), numbers);
            if Contact::burns(numbers) {
                change.event(format!("arc drawn, {}", SITES[contact].words));
            }
        }
    }

    /// Enters a phase that lasts for a time; bounces still to come are dropped.
    fn enter(&self, phase: f64, lasts: f64, armature: usize, t: f64, change: &mut Change) {
        let numbers = [phase, t, t + lasts, self.bounce.len() as f64];
        change.memory.numbers[armature_numbers(armature)].copy_from_slice(&numbers);
    }

    /// Resistance of a contact while it is closed, pitted or not: supply A, ground A, supply B, ground B.
    pub(crate) fn closed_resistance(&self, contact: usize) -> Resistance {
        self.contact(contact).closed_resistance
    }

    /// The law of a contact.
    pub(super) fn contact(&self, contact: usize) -> Cow<'_, Contact> {
        match self.faults.contact(contact) {
            ContactFault::Pitted(more) => {
                let resistance = Resistance::from_si(self.contacts.closed_resistance.si() + more.si());
                Cow::Owned(Contact { closed_resistance: resistance, ..self.contacts.clone() })
            }
            _ => Cow::Borrowed(&self.contacts),
        }
    }
}
