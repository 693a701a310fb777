//! A fuse as a circuit computes with it.

use super::fuse::Fuse;
use super::integrals::{EDGES, I, Integrals, LINE, LOAD, OWN, TERMINALS, unknowns};
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::parts::contact::Contact;
use crate::quantity::Resistance;

const BLOWS: usize = Contact::NUMBERS;
/// First of the two guards on the least fusing currents.
const PASSES: usize = BLOWS + 1;
/// Local value after the integrals: how warm the element is, 1 long after the rated current began.
const WARMTH: usize = OWN + 1;

const WHOLE: u32 = 0;
const BLOWN: u32 = 1;
/// Numbers of memory after the contact's.
const ABOVE: usize = Contact::NUMBERS;

/// A fuse made ready.
#[derive(Debug, Clone)]
pub(super) struct RunningFuse {
    /// Its closed resistance is the cold one.
    contact: Contact,
    integrals: Integrals,
    /// Resistance that a warmth of 1 adds, ohm.
    by_warmth: f64,
    per_ampere: f64,
    spent: bool,
}

impl RunningFuse {
    pub(super) const PROBES: [Probe; 1] = [Probe { name: "closed", unit: "1" }];
    pub(super) const GUARDS: [&'static str; 6] = [
        Contact::GUARDS[0],
        Contact::GUARDS[1],
        Contact::GUARDS[2],
        "blows",
        "passes the least fusing current of the fastest edge",
        "passes the least fusing current of the slowest edge",
    ];

    pub(super) fn new(fuse: &Fuse) -> Self {
        let (rated, cold) = (fuse.rated_current.si(), fuse.resistance_when_cold());
        let cooling = fuse.cooling_time_constant.si();
        Self {
            contact: Contact { closed_resistance: Resistance::from_si(cold), ..fuse.contact.clone() },
            integrals: Integrals::new(&fuse.band(), fuse.band_position.si(), rated, cooling),
            by_warmth: cold * (fuse.hot_cold_ratio.si() - 1.0),
            per_ampere: 1.0 / rated,
            spent: fuse.spent,
        }
    }

    pub(super) fn all_unknowns() -> Vec<Unknown> {
        let mut all = unknowns();
        all.push(Unknown::slow("warmth", "1", 0.1, 0.0));
        all
    }

    pub(super) fn start(spent: bool) -> Memory {
        let mut numbers = Contact::rest(!spent).to_vec();
        numbers.resize(ABOVE + EDGES, 0.0);
        Memory::new(if spent { BLOWN } else { WHOLE }, numbers)
    }
}

impl Part for RunningFuse {
    fn kind(&self) -> &'static str {
        "fuse"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        Self::all_unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let numbers = &at.memory.numbers;
        let (i, warmth) = (at.x(I), at.x(WARMTH));
        self.contact.evaluate(at, out, LINE, LOAD, I, &numbers[..Contact::NUMBERS]);
        // A closed contact's equation is v - R i = 0.
        let added = if Contact::is_closed(numbers) { self.by_warmth } else { 0.0 };
        out.f(I, -added * warmth * i);
        out.df(I, I, -added * warmth);
        out.df(I, WARMTH, -added * i);
        self.integrals.evaluate(at, out, &numbers[ABOVE..], at.memory.mode == BLOWN);

        let (cooling, share) = (self.integrals.cooling, self.per_ampere * self.per_ampere);
        out.q(WARMTH, warmth);
        out.dq(WARMTH, WARMTH, 1.0);
        out.f(WARMTH, cooling * (warmth - share * i * i));
        out.df(WARMTH, WARMTH, cooling);
        out.df(WARMTH, I, -2.0 * cooling * share * i);
    }

    fn memory(&self) -> Memory {
        Self::start(self.spent)
    }

    fn guards(&self) -> &[&'static str] {
        &Self::GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        let numbers = &at.memory.numbers;
        self.contact.guard_values(at, LINE, LOAD, I, &numbers[..Contact::NUMBERS], &mut out[..BLOWS]);
        if at.memory.mode == WHOLE {
            out[BLOWS] = at.x(OWN) - 1.0;
        }
        self.integrals.guard_values(at, &numbers[ABOVE..], &mut out[PASSES..]);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        Some(Contact::next_time(&memory.numbers))
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let mode = change.memory.mode;
        let (contact, above) = change.memory.numbers.split_at_mut(ABOVE);
        let what = match trigger {
            Trigger::Time => self.contact.full_gap(at.x(I), contact),
            Trigger::Guard(BLOWS) if mode == WHOLE => {
                self.contact.part(at.t, at.x(I), contact);
                change.memory.mode = BLOWN;
                Some("blows")
            }
            Trigger::Guard(BLOWS) => None,
            Trigger::Guard(guard) if guard >= PASSES => {
                self.integrals.pass(guard - PASSES, at, above);
                None
            }
            Trigger::Guard(guard) => Contact::fire(guard, contact),
        };
        if let Some(what) = what {
            change.event(what);
        }
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: Contact::heat(at, LINE, LOAD, I) }
    }

    fn probes(&self) -> &[Probe] {
        &Self::PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        f64::from(u8::from(Contact::is_closed(&at.memory.numbers)))
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
