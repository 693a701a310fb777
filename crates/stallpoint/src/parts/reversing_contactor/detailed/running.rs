//! The detailed contactor as a circuit computes with it.

use super::super::super::Contact;
use super::super::super::coil::{FluxCurrent, Winding};
use super::super::data::{RestPosition, ReversingContactor};
use super::super::faults::ContactFault;
use super::super::layout::{
    COIL_UNKNOWNS, CURRENT_NAMES, LEADS, SITES, contact_current, contact_guards, contact_numbers,
};
use super::description::MovingArmature;
use super::layout::{
    ACROSS_AT, ARMATURE_GUARDS, BLADE, CARRIED, CONTACT_GUARDS, FLIES, GUARDS, HITS_REST, HITS_SEAL, LANDS,
    LEAVES_REST, LEAVES_SEAL, LEAVES_WITH, MAKING_NAMES, MEETS_RESTING, MEETS_WORKING, MOTION_NAMES, MOVING, PICKED_UP,
    REST, RESTING, SEALED, SIDE, STATE, TOUCH_ENDS, TOUCHES, WORKING, arc_energy, bounce_i2t, flight, flight_speed,
    numbers, speed, travel,
};
use super::mechanics::Mechanics;
use crate::circuit::{At, Change, Memory, Pace, Part, Path, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::error::PartError;

/// Time constant with which what does not move is held at its place, s; it is there already.
const HELD: f64 = 1e-3;

/// Speed below which an armature does not count as moving into a stop, m/s.
const STANDS: f64 = 1e-6;

/// The contactor made ready.
#[derive(Debug, Clone)]
pub(in super::super) struct Detailed {
    pub(super) data: ReversingContactor,
    pub(super) detailed: MovingArmature,
    pub(super) mechanics: Mechanics,
    pub(super) contacts: [Contact; 4],
    /// Armature and side of each contact.
    owners: [(usize, f64); 4],
}

impl Detailed {
    pub(in super::super) fn new(data: &ReversingContactor, detailed: &MovingArmature) -> Result<Self, PartError> {
        let mechanics = Mechanics::new(data, detailed)?;
        if (0..SITES.len()).any(|contact| data.is_welded(contact)) {
            return Err(PartError::Description {
                problem: "`detailed` has no model of a welded contact".into(),
                advice: "leave `detailed` out for this fault: the quick fidelity has one".into(),
            });
        }
        let owner = |contact: usize| {
            let armature = usize::from(!data.made_by(0).contains(&contact) && !data.rested_by(0).contains(&contact));
            (armature, if data.made_by(armature).contains(&contact) { WORKING } else { RESTING })
        };
        Ok(Self {
            mechanics,
            detailed: detailed.clone(),
            contacts: [0, 1, 2, 3].map(|contact| data.contact(contact).into_owned()),
            owners: [0, 1, 2, 3].map(owner),
            data: data.clone(),
        })
    }

    pub(in super::super) fn sealed_memory(&self, forward: bool) -> Memory {
        self.memory_in(if forward { [SEALED, REST] } else { [REST, SEALED] })
    }

    fn winding(&self, k: usize) -> Winding<'_> {
        self.data.winding(k)
    }

    /// Travel of an armature, m; that of its stop where it lies on one.
    fn travelled(&self, at: &At, k: usize) -> f64 {
        match at.memory.numbers[numbers(k)][STATE] {
            REST => 0.0,
            SEALED => self.mechanics.travel,
            _ => at.x(travel(k)),
        }
    }

    fn flux_current(&self, at: &At, k: usize) -> FluxCurrent {
        let turns = self.winding(k).turns();
        let s = self.travelled(at, k) / self.mechanics.travel;
        let (value, by_flux, by_travel) = self.mechanics.current(at.x(LEADS[k].flux) / turns, s);
        let moves = at.memory.numbers[numbers(k)][STATE] == MOVING;
        FluxCurrent {
            value: value / turns,
            by_flux: by_flux / (turns * turns),
            by_position: Some((travel(k), if moves { by_travel / turns } else { 0.0 })),
        }
    }

    pub(super) fn current(&self, at: &At, k: usize) -> f64 {
        self.flux_current(at, k).value
    }

    /// Travel at which a side's blade meets its contact.
    fn meets(&self, side: f64) -> f64 {
        if side == WORKING { self.mechanics.travel - self.mechanics.overtravel } else { self.mechanics.overtravel }
    }

    pub(super) fn in_reach(&self, x: f64, side: f64) -> bool {
        side * (x - self.meets(side)) >= 0.0
    }

    fn braked(&self) -> bool {
        self.data.rest == RestPosition::Braked
    }

    /// Force towards seal with the blade as it lies at that travel, at a steady current, N.
    pub(super) fn net_at_current(&self, k: usize, current: f64, x: f64) -> f64 {
        let m = &self.mechanics;
        let s = x / m.travel;
        let mut force = m.force(m.flux_at(current * self.winding(k).turns(), s), s) - m.spring_force(x);
        if self.in_reach(x, WORKING) {
            force -= m.contact(x - self.meets(WORKING)).0;
        }
        if self.braked() && self.in_reach(x, RESTING) {
            force += m.contact(self.meets(RESTING) - x).0;
        }
        force
    }

    /// Compression of the contact spring beyond first touch, m; none while the blade is carried.
    fn compression(&self, at: &At, k: usize) -> Option<f64> {
        let own = &at.memory.numbers[numbers(k)];
        if own[BLADE] == CARRIED {
            return None;
        }
        let off = if own[BLADE] == FLIES { at.x(flight(k)) } else { 0.0 };
        Some(own[SIDE] * (self.travelled(at, k) - self.meets(own[SIDE])) + off)
    }

    /// Net force on an armature towards seal, N.
    fn force(&self, at: &At, k: usize) -> f64 {
        let m = &self.mechanics;
        let x = self.travelled(at, k);
        let flux = at.x(LEADS[k].flux) / self.winding(k).turns();
        let side = at.memory.numbers[numbers(k)][SIDE];
        let contact = self.compression(at, k).map_or(0.0, |compression| side * m.contact(compression).0);
        m.force(flux, x / m.travel) - m.spring_force(x) - contact
    }

    fn mass(&self, own: &[f64]) -> f64 {
        self.mechanics.armature + if own[BLADE] == CARRIED { self.mechanics.blade } else { 0.0 }
    }

    /// Gap of a contact and its slopes by travel and flight.
    fn gap(&self, at: &At, contact: usize) -> (f64, f64, f64) {
        let (k, side) = self.owners[contact];
        let own = &at.memory.numbers[numbers(k)];
        if own[BLADE] != CARRIED && own[SIDE] == side {
            return if own[BLADE] == FLIES { (at.x(flight(k)).max(0.0), 0.0, 1.0) } else { (0.0, 0.0, 0.0) };
        }
        let gap = side * (self.meets(side) - self.travelled(at, k));
        if gap > 0.0 { (gap, if own[STATE] == MOVING { -side } else { 0.0 }, 0.0) } else { (0.0, 0.0, 0.0) }
    }

    fn stamp_motion(&self, at: &At, out: &mut Stamp, k: usize) {
        let m = &self.mechanics;
        let own = &at.memory.numbers[numbers(k)];
        let (x, v, y, w) = (travel(k), speed(k), flight(k), flight_speed(k));
        let flux = LEADS[k].flux;
        let turns = self.winding(k).turns();
        for unknown in [x, v, y, w] {
            out.q(unknown, at.x(unknown));
            out.dq(unknown, unknown, 1.0);
        }
        let moves = own[STATE] == MOVING;
        let flies = own[BLADE] == FLIES;
        let stop = self.travelled(at, k);
        let mass = self.mass(own);
        let (by_flux, by_x) = m.force_slopes(at.x(flux) / turns, stop / m.travel);
        let touching = if own[BLADE] == CARRIED { 0.0 } else { m.contact_stiffness };
        let (fx, fx_x, fx_v) = if moves { (-at.x(v), 0.0, -1.0) } else { ((at.x(x) - stop) / HELD, 1.0 / HELD, 0.0) };
        out.f(x, fx);
        out.df(x, x, fx_x);
        out.df(x, v, fx_v);
        let on = if moves { 1.0 / mass } else { 0.0 };
        out.f(v, if moves { -self.force(at, k) * on } else { at.x(v) / HELD });
        out.df(v, v, if moves { 0.0 } else { 1.0 / HELD });
        out.df(v, flux, -on * by_flux / turns);
        out.df(v, x, on * (-by_x + m.stiffness + touching));
        out.df(v, y, if flies { on * own[SIDE] * touching } else { 0.0 });
        let force = self.compression(at, k).map_or(0.0, |compression| m.contact(compression).0);
        out.f(y, if flies { -at.x(w) } else { at.x(y) / HELD });
        out.df(y, y, if flies { 0.0 } else { 1.0 / HELD });
        out.df(y, w, if flies { -1.0 } else { 0.0 });
        out.f(w, if flies { force / m.blade } else { at.x(w) / HELD });
        out.df(w, w, if flies { 0.0 } else { 1.0 / HELD });
        let (by_y, by_x) = if flies { (touching / m.blade, own[SIDE] * touching / m.blade) } else { (0.0, 0.0) };
        out.df(w, y, by_y);
        out.df(w, x, if moves { by_x } else { 0.0 });
    }

    /// What the working contacts of an armature do while it makes: arcs' energy, i²t of the bounces.
    fn stamp_making(&self, at: &At, out: &mut Stamp, k: usize) {
        let own = &at.memory.numbers[numbers(k)];
        let made = own[BLADE] != CARRIED && own[SIDE] == WORKING;
        let bounces = made && (own[BLADE] == FLIES || own[BLADE] == TOUCHES);
        let (energy, i2t) = (arc_energy(k), bounce_i2t(k));
        for unknown in [energy, i2t] {
            out.q(unknown, at.x(unknown));
            out.dq(unknown, unknown, 1.0);
        }
        for &contact in self.data.made_by(k) {
            let (site, i) = (&SITES[contact], contact_current(contact));
            let burns = made && Contact::burns(&at.memory.numbers[contact_numbers(contact)]);
            let (on, bouncing) = (f64::from(u8::from(burns)), f64::from(u8::from(bounces)));
            let v = at.x(site.from) - at.x(site.to);
            out.f(energy, -on * v * at.x(i));
            out.df(energy, i, -on * v);
            out.df(energy, site.from, -on * at.x(i));
            out.df(energy, site.to, on * at.x(i));
            out.f(i2t, -bouncing * at.x(i) * at.x(i));
            out.df(i2t, i, -2.0 * bouncing * at.x(i));
        }
    }

    fn armature_guards(&self, at: &At, k: usize, out: &mut [f64]) {
        let own = &at.memory.numbers[numbers(k)];
        let other = &at.memory.numbers[numbers(1 - k)];
        let (x, v) = (at.x(travel(k)), at.x(speed(k)));
        let healthy = self.data.faults.armature(k).is_healthy();
        match own[STATE] {
            REST if healthy && !(self.data.interlock && other[STATE] != REST) => out[LEAVES_REST] = self.force(at, k),
            SEALED if healthy => out[LEAVES_SEAL] = -self.force(at, k),
            MOVING => {
                // Rounding of the speed as it leaves a stop is no impact.
                out[HITS_SEAL] = (x - self.mechanics.travel).min(v - STANDS);
                out[HITS_REST] = (-x).min(-v - STANDS);
            }
            _ => {}
        }
        if own[BLADE] == CARRIED {
            if own[STATE] == MOVING {
                out[MEETS_WORKING] = (x - self.meets(WORKING)).min(v);
                if self.braked() {
                    out[MEETS_RESTING] = (self.meets(RESTING) - x).min(-v);
                }
            }
            return;
        }
        let (y, w) = if own[BLADE] == FLIES { (at.x(flight(k)), at.x(flight_speed(k))) } else { (0.0, 0.0) };
        if own[BLADE] == FLIES {
            out[LANDS] = (-y).min(-w);
        }
        if own[STATE] == MOVING {
            let beyond = own[SIDE] * (x - self.meets(own[SIDE])) + y;
            out[PICKED_UP] = (-beyond).min(-(own[SIDE] * v + w));
        }
    }
}

impl Part for Detailed {
    fn kind(&self) -> &'static str {
        "reversing contactor"
    }

    fn terminals(&self) -> &[Terminal] {
        &super::super::part::TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let contacts = CURRENT_NAMES.iter().map(|name| Unknown::fast(name, "A", 1.0));
        let coils = (0..2).flat_map(|k| self.winding(k).unknowns_named(COIL_UNKNOWNS[k].0, COIL_UNKNOWNS[k].1));
        // Held at an operating point: an armature is taken across as a whole.
        let held = |name, unit, nominal| Unknown { name, unit, nominal, initial: 0.0, pace: Pace::Accumulator };
        let (far, fast) = (0.01 * self.mechanics.travel, 0.01 * self.mechanics.travel / self.data.operate_time.si());
        let motion = (0..2).flat_map(|k| {
            let [x, v, y, w] = MOTION_NAMES[k];
            let stuck = self.memory().numbers[numbers(k)][STATE] == SEALED;
            let x = Unknown { initial: if stuck { self.mechanics.travel } else { 0.0 }, ..held(x, "m", far) };
            [x, held(v, "m/s", fast), held(y, "m", far), held(w, "m/s", fast)]
        });
        let making = MAKING_NAMES.iter().flat_map(|[energy, i2t]| [held(energy, "J", 0.1), held(i2t, "A2 s", 1.0)]);
        contacts.chain(coils).chain(motion).chain(making).collect()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        for (contact, site) in SITES.iter().enumerate() {
            let i = contact_current(contact);
            let (gap, by_travel, by_flight) = self.gap(at, contact);
            let own = &at.memory.numbers[contact_numbers(contact)];
            let by_gap = self.contacts[contact].evaluate_across(at, out, [site.from, site.to, i], own, gap);
            let (k, _) = self.owners[contact];
            out.df(i, travel(k), -by_gap * by_travel);
            out.df(i, flight(k), -by_gap * by_flight);
        }
        for k in 0..2 {
            self.winding(k).stamp(at, out, LEADS[k], self.flux_current(at, k));
            self.stamp_motion(at, out, k);
            self.stamp_making(at, out, k);
        }
    }

    fn paths(&self) -> Vec<Path> {
        self.data.quick_paths()
    }

    fn memory(&self) -> Memory {
        self.memory_in([REST, REST])
    }

    fn guards(&self) -> &[&'static str] {
        &GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        for (contact, site) in SITES.iter().enumerate() {
            if self.data.faults.contact(contact) == ContactFault::Missing {
                continue;
            }
            let (own, i) = (&at.memory.numbers[contact_numbers(contact)], contact_current(contact));
            let gap = self.gap(at, contact).0;
            let guards = &mut out[contact_guards(contact)];
            self.contacts[contact].guards_across(at, [site.from, site.to, i], own, gap, guards);
        }
        for k in 0..2 {
            let first = CONTACT_GUARDS + k * ARMATURE_GUARDS;
            self.armature_guards(at, k, &mut out[first..first + ARMATURE_GUARDS]);
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        let times =
            (0..2).flat_map(|k| [memory.numbers[numbers(k)][TOUCH_ENDS], memory.numbers[numbers(k)][ACROSS_AT]]);
        times.reduce(f64::min)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        match trigger {
            Trigger::Time => (0..2).for_each(|k| self.armature_time(k, at, change)),
            Trigger::Guard(guard) if guard < CONTACT_GUARDS => {
                let (contact, own) = (guard / Contact::GUARDS.len(), guard % Contact::GUARDS.len());
                if let Some(what) = Contact::fire(own, &mut change.memory.numbers[contact_numbers(contact)]) {
                    // On its way to closing, the gap has been full but is not any more.
                    let (_, by_travel, by_flight) = self.gap(at, contact);
                    let moves = by_travel != 0.0 || by_flight != 0.0;
                    let what = if moves { what.trim_end_matches(" at full gap") } else { what };
                    change.event(format!("{what}, {}", SITES[contact].words));
                }
            }
            Trigger::Guard(guard) => {
                let own = guard - CONTACT_GUARDS;
                self.armature_guard(own / ARMATURE_GUARDS, own % ARMATURE_GUARDS, at, change);
            }
        }
    }

    fn power(&self, at: &At) -> Power {
        let contacts: f64 =
            SITES.iter().enumerate().map(|(k, site)| Contact::heat(at, site.from, site.to, contact_current(k))).sum();
        let coils: f64 = (0..2).map(|k| self.winding(k).heat(at, LEADS[k], self.current(at, k))).sum();
        Power { delivered: 0.0, dissipated: contacts + coils }
    }

    fn stored(&self, at: &At) -> f64 {
        let m = &self.mechanics;
        (0..2)
            .map(|k| {
                let own = &at.memory.numbers[numbers(k)];
                let x = self.travelled(at, k);
                let v = if own[STATE] == MOVING { at.x(speed(k)) } else { 0.0 };
                // A blade that touches keeps in its spring what it will leave with.
                let w = if own[BLADE] == FLIES { at.x(flight_speed(k)) } else { own[LEAVES_WITH] };
                let blade = if own[BLADE] == CARRIED { 0.0 } else { 0.5 * m.blade * w * w };
                m.field(at.x(LEADS[k].flux) / self.winding(k).turns(), x / m.travel)
                    + m.spring_energy(x)
                    + self.compression(at, k).map_or(0.0, |compression| m.contact(compression).1)
                    + 0.5 * self.mass(own) * v * v
                    + blade
            })
            .sum()
    }

    fn probes(&self) -> &[Probe] {
        &super::super::part::PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        if let Some(contact) = index.checked_sub(6) {
            return f64::from(u8::from(Contact::is_closed(&at.memory.numbers[contact_numbers(contact)])));
        }
        let k = index / 3;
        match index % 3 {
            0 => at.x(LEADS[k].plus) - at.x(LEADS[k].minus),
            1 => self.current(at, k),
            _ => self.travelled(at, k) / self.mechanics.travel,
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
