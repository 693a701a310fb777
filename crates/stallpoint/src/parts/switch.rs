//! Switch and isolator.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::contact::Contact;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::PartError;
use crate::quantity::Time;

/// A switch that is operated at known times: an isolator, a control switch.
///
/// Its law is that of its [`Contact`]: it opens with an arc when it carries a current. A schedule gives the spans in which
/// it is closed; without one it begins as `closed` says and may open and close once each.
///
/// States: `current`; probes: `closed` (1 or 0). Events: "opens", "closes", and those of its contact.
///
/// Limits: no bounce when it closes; at an operating point it is as it begins.
///
/// # Example
/// ```
/// use stallpoint::parts::Switch;
///
/// let isolator = Switch::default();
/// assert!(isolator.closed);
/// let control = Switch::worked([(0.1, 1.2), (2.0, 2.5)]);
/// assert_eq!(control.schedule.len(), 2);
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Switch {
    /// Its contact.
    pub contact: Contact,
    /// Whether it is closed at the start; with a schedule, that decides.
    pub closed: bool,
    /// When it opens, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opens_at: Option<Time>,
    /// When it closes, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub closes_at: Option<Time>,
    /// Spans in which it is closed, [from, to] in s, rising; it is open outside them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub schedule: Vec<[Time; 2]>,
}

impl Default for Switch {
    fn default() -> Self {
        Self { contact: Contact::default(), closed: true, opens_at: None, closes_at: None, schedule: Vec::new() }
    }
}

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const PROBES: [Probe; 1] = [Probe { name: "closed", unit: "1" }];

impl Switch {
    /// A switch that stays open, unless it is given a time to close.
    pub fn open() -> Self {
        Self { closed: false, ..Self::default() }
    }

    /// A switch that is closed in these spans only, (from, to) in s; those that touch become one.
    ///
    /// They are checked when the switch joins a circuit.
    pub fn worked(spans: impl IntoIterator<Item = (f64, f64)>) -> Self {
        let mut schedule: Vec<[Time; 2]> = Vec::new();
        for (from, to) in spans {
            match schedule.last_mut() {
                Some(last) if last[1].si() == from => last[1] = Time::from_si(to),
                _ => schedule.push([Time::from_si(from), Time::from_si(to)]),
            }
        }
        Self { schedule, ..Self::open() }
    }

    /// Whether it is closed when a run starts.
    fn starts_closed(&self) -> bool {
        match self.schedule.first() {
            Some([from, _]) => from.si() <= 0.0,
            None => self.closed,
        }
    }

    /// Time of operation number `k` and whether it closes; operations at the very start are none.
    fn operation(&self, k: usize) -> Option<(f64, bool)> {
        if self.schedule.is_empty() {
            let (opens, closes) = (self.opens_at.map(Time::si), self.closes_at.map(Time::si));
            let (first, second) = match (opens, closes) {
                (Some(opens), Some(closes)) if closes < opens => ((closes, true), Some((opens, false))),
                (Some(opens), closes) => ((opens, false), closes.map(|time| (time, true))),
                (None, closes) => ((closes?, true), None),
            };
            return [Some(first), second].get(k).copied().flatten();
        }
        let k = k + usize::from(self.starts_closed());
        let span = self.schedule.get(k / 2)?;
        Some((span[k % 2].si(), k.is_multiple_of(2)))
    }
}

impl Part for Switch {
    fn kind(&self) -> &'static str {
        "switch"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.contact.check()?;
        let once = [("opens_at", self.opens_at), ("closes_at", self.closes_at)];
        for (argument, time) in once {
            let Some(time) = time else { continue };
            super::not_negative(argument, time)?;
            if !self.schedule.is_empty() {
                return Err(PartError::Description {
                    problem: format!("`{argument}` is given beside a `schedule`"),
                    advice: "put all times into the schedule, or leave it out".into(),
                });
            }
        }
        if self.opens_at.is_some() && self.opens_at == self.closes_at {
            return Err(PartError::Description {
                problem: "`opens_at` and `closes_at` are the same time".into(),
                advice: "make them differ, or leave both out".into(),
            });
        }
        let mut before = None;
        for [from, to] in &self.schedule {
            super::not_negative("schedule", *from)?;
            super::in_range("schedule", *to, to > from, &format!("later than the start of its span at {from}"))?;
            if let Some(before) = before {
                let allowed = format!("later than the end of the span before at {before}");
                super::in_range("schedule", *from, *from > before, &allowed)?;
            }
            before = Some(*to);
        }
        Ok(())
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.contact.evaluate(at, out, A, B, I, &at.memory.numbers);
    }

    /// The mode counts the operations done.
    fn memory(&self) -> Memory {
        Memory::new(0, Contact::rest(self.starts_closed()))
    }

    fn guards(&self) -> &[&'static str] {
        &Contact::GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        self.contact.guard_values(at, A, B, I, &at.memory.numbers, out);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        let operation = self.operation(memory.mode as usize).map_or(f64::INFINITY, |(time, _)| time);
        Some(operation.min(Contact::next_time(&memory.numbers)))
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let numbers = &mut change.memory.numbers;
        let what = match (trigger, self.operation(change.memory.mode as usize)) {
            (Trigger::Guard(guard), _) => Contact::fire(guard, numbers),
            (Trigger::Time, Some((time, closes))) if time <= Contact::next_time(numbers) => {
                change.memory.mode += 1;
                match (closes, Contact::is_closed(numbers)) {
                    (true, false) => {
                        Contact::close(numbers);
                        Some("closes")
                    }
                    (false, true) => {
                        self.contact.part(at.t, at.x(I), numbers);
                        Some("opens")
                    }
                    _ => None,
                }
            }
            (Trigger::Time, _) => self.contact.full_gap(at.x(I), numbers),
        };
        if let Some(what) = what {
            change.event(what);
        }
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: Contact::heat(at, A, B, I) }
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        f64::from(u8::from(Contact::is_closed(&at.memory.numbers)))
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
