//! What armatures and blades do at events.

use super::super::super::Contact;
use super::super::data::RestPosition;
use super::super::faults::ArmatureFault;
use super::super::layout::{SITES, contact_current, contact_numbers};
use super::layout::{
    ACROSS_AT, BLADE, CARRIED, FLIES, HITS_REST, HITS_SEAL, LANDS, LEAVES_REST, LEAVES_SEAL, LEAVES_WITH, LIES,
    MEETS_RESTING, MEETS_WORKING, MOVING, PICKED_UP, REST, RESTING, SEALED, SIDE, STATE, TOUCH_ENDS, TOUCHES, WORKING,
    arc_energy, bounce_i2t, flight, flight_speed, numbers, speed, travel,
};
use super::running::Detailed;
use crate::circuit::{At, Change, Memory};

const LETTER: [char; 2] = ['A', 'B'];
/// A gap that still changes: no time at which it is full is known.
const STILL_OPENING: f64 = f64::MAX;
/// Time after which an armature that nothing moved is taken across: longer than any takes, s.
const ACROSS_AFTER: f64 = 10.0;

impl Detailed {
    /// Contacts on a side of an armature's blade.
    pub(super) fn side(&self, armature: usize, side: f64) -> &'static [usize] {
        if side == WORKING { self.data.made_by(armature) } else { self.data.rested_by(armature) }
    }

    fn armature_numbers(&self, state: f64) -> [f64; 6] {
        let (blade, side) = match (state == SEALED, self.data.rest) {
            (true, _) => (LIES, WORKING),
            (false, RestPosition::Braked) => (LIES, RESTING),
            (false, RestPosition::Open) => (CARRIED, WORKING),
        };
        [state, blade, side, f64::INFINITY, 0.0, f64::INFINITY]
    }

    /// Memory with the armatures in states with nothing to come, unless they are stuck.
    pub(super) fn memory_in(&self, states: [f64; 2]) -> Memory {
        let stuck = |armature: usize| match self.data.faults.armature(armature) {
            ArmatureFault::Healthy => states[armature],
            ArmatureFault::StuckOpen => REST,
            ArmatureFault::StuckClosed => SEALED,
        };
        let states = [stuck(0), stuck(1)];
        let closed = |contact: usize| {
            let by = |k: usize| self.side(k, if states[k] == SEALED { WORKING } else { RESTING }).contains(&contact);
            self.data.can_close(contact) && (by(0) || by(1))
        };
        let contacts = (0..SITES.len()).flat_map(|contact| Contact::rest(closed(contact)));
        let armatures = states.into_iter().flat_map(|state| self.armature_numbers(state));
        Memory::new(0, contacts.chain(armatures).collect::<Vec<f64>>())
    }

    /// Lets a guard of an armature act.
    pub(super) fn armature_guard(&self, k: usize, guard: usize, at: &At, change: &mut Change) {
        let letter = LETTER[k];
        let own = numbers(k).start;
        let v = at.x(speed(k));
        match guard {
            LEAVES_REST | LEAVES_SEAL => {
                change.memory.numbers[own + STATE] = MOVING;
                change.memory.numbers[own + ACROSS_AT] = at.t + ACROSS_AFTER;
                let from = if guard == LEAVES_REST { 0.0 } else { self.mechanics.travel };
                change.reset(travel(k), from);
                change.reset(speed(k), 0.0);
                change.event(if guard == LEAVES_REST {
                    format!("coil {letter} pulls in")
                } else {
                    format!("coil {letter} drops out")
                });
                if guard == LEAVES_REST {
                    change.reset(arc_energy(k), 0.0);
                    change.reset(bounce_i2t(k), 0.0);
                }
            }
            HITS_SEAL | HITS_REST => {
                let seal = guard == HITS_SEAL;
                let rebound = self.detailed.stop_restitution.si() * v;
                change.reset(travel(k), if seal { self.mechanics.travel } else { 0.0 });
                if rebound.abs() >= self.detailed.least_rebound_speed {
                    change.reset(speed(k), -rebound);
                } else {
                    self.comes_to_rest(k, seal, at, change);
                }
            }
            MEETS_WORKING | MEETS_RESTING => {
                let side = if guard == MEETS_WORKING { WORKING } else { RESTING };
                change.memory.numbers[own + SIDE] = side;
                change.event(match guard {
                    _ if !self.side(k, side).iter().any(|&contact| self.data.can_close(contact)) => {
                        format!("set {letter} does not make")
                    }
                    MEETS_WORKING => format!("set {letter} makes"),
                    _ => format!("set {letter} back on ground"),
                });
                self.touch(k, v.abs(), at, change);
            }
            LANDS => self.touch(k, -at.x(flight_speed(k)), at, change),
            PICKED_UP => {
                let side = change.memory.numbers[own + SIDE];
                let m = &self.mechanics;
                let blade =
                    if change.memory.numbers[own + BLADE] == FLIES { -side * at.x(flight_speed(k)) } else { 0.0 };
                change.reset(speed(k), (m.armature * v + m.blade * blade) / (m.armature + m.blade));
                self.lift(k, at, change);
                change.event(if side == WORKING {
                    format!("set {letter} breaks")
                } else {
                    format!("set {letter} leaves ground")
                });
            }
            _ => {}
        }
    }

    fn comes_to_rest(&self, k: usize, seal: bool, at: &At, change: &mut Change) {
        let own = numbers(k).start;
        change.memory.numbers[own + STATE] = if seal { SEALED } else { REST };
        change.memory.numbers[own + ACROSS_AT] = f64::INFINITY;
        change.reset(speed(k), 0.0);
        change.event(format!("armature {} {}", LETTER[k], if seal { "seals" } else { "back at rest" }));
        // The gaps of what it opened are full now.
        for &contact in self.side(k, if seal { RESTING } else { WORKING }) {
            let place = &mut change.memory.numbers[contact_numbers(contact)];
            if !Contact::is_closed(place)
                && let Some(what) = self.contacts[contact].full_gap(at.x(contact_current(contact)), place)
            {
                change.event(format!("{what}, {}", SITES[contact].words));
            }
        }
    }

    /// The blade hits its contact with a speed: it lies there, or touches and flies off again.
    fn touch(&self, k: usize, hit: f64, at: &At, change: &mut Change) {
        let own = numbers(k).start;
        let side = change.memory.numbers[own + SIDE];
        let rebound = self.detailed.contact_restitution.si() * hit;
        let bounces = rebound >= self.detailed.least_rebound_speed;
        let place = &mut change.memory.numbers[own..own + 6];
        place[BLADE] = if bounces { TOUCHES } else { LIES };
        place[TOUCH_ENDS] = if bounces { at.t + self.detailed.touch_time.si() } else { f64::INFINITY };
        place[LEAVES_WITH] = if bounces { rebound } else { 0.0 };
        change.reset(flight(k), 0.0);
        change.reset(flight_speed(k), 0.0);
        for &contact in self.side(k, side).iter().filter(|&&contact| self.data.can_close(contact)) {
            Contact::close(&mut change.memory.numbers[contact_numbers(contact)]);
        }
    }

    /// The armature takes the blade with it; its contacts open.
    fn lift(&self, k: usize, at: &At, change: &mut Change) {
        let own = numbers(k).start;
        let side = change.memory.numbers[own + SIDE];
        let place = &mut change.memory.numbers[own..own + 6];
        (place[BLADE], place[TOUCH_ENDS], place[LEAVES_WITH]) = (CARRIED, f64::INFINITY, 0.0);
        change.reset(flight(k), 0.0);
        change.reset(flight_speed(k), 0.0);
        self.open(k, side, at, change);
    }

    fn open(&self, k: usize, side: f64, at: &At, change: &mut Change) {
        for &contact in self.side(k, side) {
            let place = &mut change.memory.numbers[contact_numbers(contact)];
            if Contact::is_closed(place) {
                self.contacts[contact].part(at.t, at.x(contact_current(contact)), place);
                place[2] = STILL_OPENING;
                if Contact::burns(place) {
                    change.event(format!("arc drawn, {}", SITES[contact].words));
                }
            }
        }
    }

    /// A blade leaves the contact that it touched, or an operating point takes an armature across.
    pub(super) fn armature_time(&self, k: usize, at: &At, change: &mut Change) {
        let own = numbers(k).start;
        let place = &change.memory.numbers[own..own + 6];
        if place[TOUCH_ENDS] <= at.t {
            let (side, leaves) = (place[SIDE], place[LEAVES_WITH]);
            let place = &mut change.memory.numbers[own..own + 6];
            (place[BLADE], place[TOUCH_ENDS]) = (FLIES, f64::INFINITY);
            change.reset(flight(k), 0.0);
            change.reset(flight_speed(k), leaves);
            change.event(format!("set {} bounces", LETTER[k]));
            self.open(k, side, at, change);
        }
        if change.memory.numbers[own + ACROSS_AT] <= at.t {
            change.memory.numbers[own + ACROSS_AT] = f64::INFINITY;
            self.across(k, at, change);
        }
    }

    /// Takes an armature that still stands at a stop as far as the present current moves it.
    fn across(&self, k: usize, at: &At, change: &mut Change) {
        let (x, end) = (at.x(travel(k)), self.mechanics.travel);
        if at.x(speed(k)) != 0.0 || (x != 0.0 && x != end) {
            return; // it moves, or hangs: time runs
        }
        let current = self.current(at, k);
        let closing = x == 0.0;
        const STEPS: u32 = 1000;
        let place = |j: u32| end * if closing { f64::from(j) } else { f64::from(STEPS - j) } / f64::from(STEPS);
        let hangs = (1..STEPS).map(place).find(|&x| (self.net_at_current(k, current, x) > 0.0) != closing);
        let stop = hangs.unwrap_or(if closing { end } else { 0.0 });
        change.reset(travel(k), stop);
        let (leaves, meets) = if closing { (RESTING, WORKING) } else { (WORKING, RESTING) };
        let mine = numbers(k).start;
        if !self.in_reach(stop, leaves) && change.memory.numbers[mine + BLADE] != CARRIED {
            self.lift(k, at, change);
        }
        if self.in_reach(stop, meets) && !self.side(k, meets).is_empty() {
            change.memory.numbers[mine + SIDE] = meets;
            self.touch(k, 0.0, at, change);
        }
        if hangs.is_none() {
            self.comes_to_rest(k, closing, at, change);
        }
    }
}
