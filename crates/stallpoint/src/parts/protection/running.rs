//! A breaker as a circuit computes with it: logarithms taken, levels in ampere.

use super::breaker::Breaker;
use super::integrals::{EDGES, I, Integrals, LINE, LOAD, OWN, TERMINALS, unknowns};
use super::magnetic::{Elements, TIMERS};
use super::reset::Reset;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::parts::contact::Contact;
use crate::quantity::Conductance;

const GUARDS: [&str; 10] = [
    Contact::GUARDS[0],
    Contact::GUARDS[1],
    Contact::GUARDS[2],
    "trips",
    "recloses",
    "passes the pick-up of the fastest edge",
    "passes the pick-up of the slowest edge",
    "passes the magnetic level of the fastest edge",
    "passes the magnetic level of the slowest edge",
    "passes its magnetic level",
];
const TRIPS: usize = Contact::NUMBERS;
const RECLOSES: usize = TRIPS + 1;
/// First of the two guards on pick-up.
const PASSES: usize = TRIPS + 2;
/// First of the three guards of the magnetic elements; a breaker without them ends before.
const MAGNETIC: usize = PASSES + EDGES;

const LATCHED: u32 = 0;
const TRIPPED: u32 = 1;
/// Numbers of memory after the contact's: above the pick-up of each edge, then the magnetic elements' timers.
const ABOVE: usize = Contact::NUMBERS;
const TIMER: usize = ABOVE + EDGES;

/// A breaker made ready.
#[derive(Debug, Clone)]
pub(super) struct RunningBreaker {
    contact: Contact,
    integrals: Integrals,
    magnetic: Option<Elements>,
    /// The integral at which it closes by itself; none with manual reset.
    recloses_at: Option<f64>,
    /// Heating of the own integral by the square of the voltage across the open contact, 1/(V² s); zero without a heater.
    heating: f64,
}

impl RunningBreaker {
    pub(super) const PROBES: [Probe; 1] = [Probe { name: "closed", unit: "1" }];

    pub(super) fn new(breaker: &Breaker) -> Self {
        let (rated, position) = (breaker.rated_current.si(), breaker.band_position.si());
        let cooling = breaker.cooling_time_constant.si();
        let mut contact = breaker.contact.clone();
        let mut heating = 0.0;
        if breaker.reset == Reset::Modified {
            // The heater lies across the contact: open, it is what leaks; closed, it is shorted.
            let heater = &breaker.heater;
            contact.open_conductance =
                Conductance::from_si(contact.open_conductance.si() + 1.0 / heater.resistance.si());
            heating = 1.0 / (heater.trip_voltage.si().powi(2) * cooling);
        }
        Self {
            contact,
            integrals: Integrals::new(&breaker.trip_band, position, breaker.rated_at_ambient(), cooling),
            magnetic: breaker.magnetic.as_ref().map(|element| Elements {
                levels: [0.0, 1.0, position].map(|position| element.multiple(position) * rated),
                operating_time: element.operating_time.si(),
            }),
            recloses_at: (breaker.reset != Reset::Manual).then(|| breaker.recloses_at.si()),
            heating,
        }
    }

    pub(super) fn guard_names(magnetic: bool) -> &'static [&'static str] {
        if magnetic { &GUARDS } else { &GUARDS[..MAGNETIC] }
    }

    fn trip(&self, what: &'static str, at: &At, change: &mut Change) {
        if change.memory.mode == LATCHED {
            self.contact.part(at.t, at.x(I), &mut change.memory.numbers[..Contact::NUMBERS]);
            change.memory.mode = TRIPPED;
            change.event(what);
        }
    }

    /// The earliest of the known times has come.
    fn time(&self, at: &At, change: &mut Change) {
        let Some(due) = self.next_time(&change.memory) else { return };
        let contact = &mut change.memory.numbers[..Contact::NUMBERS];
        if Contact::next_time(contact) == due
            && let Some(what) = self.contact.full_gap(at.x(I), contact)
        {
            change.event(what);
        }
        if self.magnetic.is_some() && Elements::operate(due, at, change, TIMER) {
            self.trip("trips by its magnetic element", at, change);
        }
    }
}

impl Part for RunningBreaker {
    fn kind(&self) -> &'static str {
        "breaker"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let tripped = at.memory.mode == TRIPPED;
        self.contact.evaluate(at, out, LINE, LOAD, I, &at.memory.numbers[..Contact::NUMBERS]);
        self.integrals.evaluate(at, out, &at.memory.numbers[ABOVE..TIMER], tripped);
        if self.heating > 0.0 {
            let v = if tripped { at.x(LINE) - at.x(LOAD) } else { 0.0 };
            out.f(OWN, -self.heating * v * v);
            out.df(OWN, LINE, -2.0 * self.heating * v);
            out.df(OWN, LOAD, 2.0 * self.heating * v);
        }
    }

    fn memory(&self) -> Memory {
        let mut numbers = Contact::rest(true).to_vec();
        numbers.resize(TIMER, 0.0);
        if self.magnetic.is_some() {
            numbers.resize(TIMER + TIMERS, f64::INFINITY);
        }
        Memory::new(LATCHED, numbers)
    }

    fn guards(&self) -> &[&'static str] {
        Self::guard_names(self.magnetic.is_some())
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        let numbers = &at.memory.numbers;
        self.contact.guard_values(at, LINE, LOAD, I, &numbers[..Contact::NUMBERS], &mut out[..TRIPS]);
        if at.memory.mode == LATCHED {
            out[TRIPS] = at.x(OWN) - 1.0;
        } else if let Some(cooled) = self.recloses_at {
            out[RECLOSES] = cooled - at.x(OWN);
        }
        self.integrals.guard_values(at, &numbers[ABOVE..TIMER], &mut out[PASSES..MAGNETIC]);
        if let Some(magnetic) = &self.magnetic {
            magnetic.guard_values(at.x(I).abs(), &numbers[TIMER..], &mut out[MAGNETIC..]);
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        let timers = memory.numbers.get(TIMER..).unwrap_or_default().iter().copied();
        let times = timers.chain([Contact::next_time(&memory.numbers)]);
        times.filter(|time| time.is_finite()).reduce(f64::min)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        match trigger {
            Trigger::Time => self.time(at, change),
            Trigger::Guard(TRIPS) => self.trip("trips", at, change),
            Trigger::Guard(RECLOSES) if change.memory.mode == TRIPPED => {
                Contact::close(&mut change.memory.numbers[..Contact::NUMBERS]);
                change.memory.mode = LATCHED;
                change.event("recloses");
            }
            Trigger::Guard(guard) if guard >= MAGNETIC => {
                if let Some(magnetic) = &self.magnetic {
                    magnetic.pass(guard - MAGNETIC, at.t, at.x(I).abs(), &mut change.memory.numbers[TIMER..]);
                }
            }
            Trigger::Guard(guard) if guard >= PASSES => {
                self.integrals.pass(guard - PASSES, at, &mut change.memory.numbers[ABOVE..TIMER]);
            }
            Trigger::Guard(guard) => {
                if let Some(what) = Contact::fire(guard, &mut change.memory.numbers[..Contact::NUMBERS]) {
                    change.event(what);
                }
            }
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
