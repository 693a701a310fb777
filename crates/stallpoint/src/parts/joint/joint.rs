//! Joint: a bolted, crimped or plugged connection.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::constriction::Constriction;
use super::film::Film;
use super::heat::JointHeat;
use super::hot_spot::hottest_spot_c;
use super::loose::Loose;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Resistance, Temperature};

/// A joint between a stud and a lug: `v = R i`, or `i = G v` with a leakage `G = 1 nS` when it is open.
///
/// A [`Loose`] joint loses contact now and then; a [`Film`] conducts poorly until it breaks down; with [`JointHeat`] lug and
/// stud heat, and `R` grows.
///
/// States: `current`, an unknown so that micro-ohms cost no digits; with heat also `temperature` (°C). Probes:
/// `hottest_spot` (°C) of the metallic constriction, see [`hottest_spot_c`]; of a loose joint also `together` (1 or 0).
/// Events: "comes apart", "comes together"; "temperature limit reached" and, 1 K below it, "below its temperature limit
/// again"; "film breaks down", "film is whole again".
///
/// Limits: without heat the resistance is constant, the metal at `temperature_c`. The hottest spot does not raise the
/// resistance, and what exceeds the metal's share of it heats the mass alone.
///
/// Source: a clean bolted power joint has some tens of µΩ, the default is a used one (both typical, no source); leakage
/// typical, no source; the relation of voltage and temperature: R. Holm, Electric Contacts.
///
/// # Example
/// ```
/// use stallpoint::parts::Joint;
///
/// let corroded = Joint::new("60 mohm")?;
/// assert_eq!(Joint::default().resistance.si(), 1e-4);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Joint {
    /// Total contact resistance, ohm, above zero; at `temperature_c`, without the film.
    pub resistance: Resistance,
    /// The metallic constriction's share of it, ohm; when left out all of it, but no more than 0.1 mohm, as the rest of a
    /// bad joint is corrosion (typical, no source). One larger than `resistance` counts as all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub constriction: Option<Resistance>,
    /// Temperature of lug and stud, °C; where they start when they heat.
    pub temperature_c: Temperature,
    /// Whether it has come apart for good.
    pub open: bool,
    /// Loses contact now and then; it does not when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loose: Option<Loose>,
    /// A film that breaks down; there is none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub film: Option<Film>,
    /// Lug and stud heat; they stay at `temperature_c` when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat: Option<JointHeat>,
}

impl Default for Joint {
    fn default() -> Self {
        Self {
            resistance: Resistance::from_si(USED), // typical, no source
            constriction: None,
            temperature_c: Temperature::from_si(20.0),
            open: false,
            loose: None,
            film: None,
            heat: None,
        }
    }
}

/// Resistance of a used joint, ohm (typical, no source).
const USED: f64 = 1e-4;
/// Leakage of an open joint, S (typical, no source).
const LEAKAGE: f64 = 1e-9;

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const T: usize = 3;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const PROBES: [Probe; 2] = [Probe { name: "hottest_spot", unit: "degC" }, Probe { name: "together", unit: "1" }];
/// Guards of heat, then of the film, which are their events too.
const GUARDS: [&str; 4] =
    ["temperature limit reached", "below its temperature limit again", "film breaks down", "film is whole again"];
/// Guards of one of the two.
const EACH: usize = 2;
/// The mode is the sum of these: apart, film broken down, above the temperature limit.
const APART: u32 = 1;
const BROKEN: u32 = 2;
const HOT: u32 = 4;
/// Places in the memory: when a loose joint changes next, how often it has.
const NEXT: usize = 0;
const COUNT: usize = 1;

impl Joint {
    /// A joint of a total contact resistance.
    ///
    /// # Errors
    /// A wrong unit, or a resistance that is not above zero.
    pub fn new(resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        let joint = Self { resistance: crate::parts::quantity("resistance", resistance)?, ..Self::default() };
        joint.check()?;
        Ok(joint)
    }

    /// A clean joint: the metal contact that a force makes, and nothing else.
    ///
    /// # Errors
    /// A force, hardness or resistivity that is not above zero.
    pub fn pressed(contact: &Constriction) -> Result<Self, Error> {
        let resistance = Resistance::from_si(contact.resistance());
        let joint = Self { resistance, constriction: Some(resistance), ..Self::default() };
        joint.check()?;
        Ok(joint)
    }

    /// The metallic constriction's share of the resistance, ohm.
    pub fn metallic_resistance(&self) -> f64 {
        self.constriction.map_or(USED, |share| share.si()).min(self.resistance.si())
    }

    /// What it remembers once a current has broken its film down; none while the film holds.
    pub(crate) fn broken_down_by(&self, current: f64) -> Option<Memory> {
        self.film.filter(|film| film.breaks(current) > 0.0)?;
        let mut memory = self.memory();
        memory.mode |= BROKEN;
        Some(memory)
    }

    /// Whether lug and stud touch.
    fn touches(&self, at: &At) -> bool {
        !self.open && at.memory.mode & APART == 0
    }

    fn temperature(&self, at: &At) -> f64 {
        if self.heat.is_some() { at.x(T) } else { self.temperature_c.si() }
    }

    /// How much warmth has made the resistance grow, and the slope of that.
    fn growth(&self, at: &At) -> (f64, f64) {
        self.heat.map_or((1.0, 0.0), |heat| heat.growth(at.x(T), self.temperature_c.si()))
    }

    /// Resistance of a joint that touches, with the film while it is whole, and its slope with temperature.
    fn ohms(&self, at: &At) -> (f64, f64) {
        let (grown, slope) = self.growth(at);
        let film = self.film.filter(|_| at.memory.mode & BROKEN == 0).map_or(0.0, |film| film.resistance.si());
        (self.resistance.si() * grown + film, self.resistance.si() * slope)
    }

    /// Temperature of the hottest spot, °C; that of the mass where nothing touches.
    fn hottest_spot(&self, at: &At) -> f64 {
        let ohms = if self.touches(at) { self.metallic_resistance() * self.growth(at).0 } else { 0.0 };
        hottest_spot_c(ohms * at.x(I), self.temperature(at))
    }

    /// Where in [`GUARDS`] its own start.
    fn first_guard(&self) -> usize {
        if self.heat.is_some() { 0 } else { EACH }
    }
}

impl Part for Joint {
    fn kind(&self) -> &'static str {
        "joint"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range};
        above_zero("resistance", self.resistance)?;
        if let Some(share) = self.constriction {
            above_zero("constriction", share)?;
        }
        // Above where α's straight line turns the resistance negative.
        let t = self.temperature_c;
        in_range("temperature_c", t, (-79.0..400.0).contains(&t.si()), "between -79 degC and 400 degC")?;
        self.loose.map_or(Ok(()), |loose| loose.check())?;
        self.film.map_or(Ok(()), |film| film.check())?;
        self.heat.map_or(Ok(()), |heat| heat.check())
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let mut unknowns = vec![Unknown::fast("current", "A", 1.0)];
        if self.heat.is_some() {
            unknowns.push(Unknown::slow("temperature", "degC", 10.0, self.temperature_c.si()));
        }
        unknowns
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let v = at.x(A) - at.x(B);
        // by_i(T) · i = flow(v)
        let (by_i, by_t, flow, slope) = match &self.loose {
            _ if self.open => (1.0, 0.0, LEAKAGE * v, LEAKAGE),
            Some(loose) if !self.touches(at) => {
                let (flow, slope) = loose.gap_current(v);
                (1.0, 0.0, flow, slope)
            }
            _ => {
                let (ohms, by_t) = self.ohms(at);
                (ohms, by_t, v, 1.0)
            }
        };
        crate::parts::branch_current(at, out, A, B, I);
        out.f(I, by_i * at.x(I) - flow);
        out.df(I, I, by_i);
        out.df(I, A, -slope);
        out.df(I, B, slope);
        if let Some(heat) = &self.heat {
            let (lost, conductance) = heat.loss(at.x(T), self.temperature_c.si());
            out.df(I, T, by_t * at.x(I));
            out.q(T, heat.heat_capacity.si() * at.x(T));
            out.dq(T, T, heat.heat_capacity.si());
            out.f(T, lost - v * at.x(I));
            out.df(T, T, conductance);
            out.df(T, I, -v);
            out.df(T, A, -at.x(I));
            out.df(T, B, at.x(I));
        }
    }

    fn memory(&self) -> Memory {
        match &self.loose {
            Some(loose) => Memory::new(0, [loose.span(0), 0.0]),
            None => Memory::default(),
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        memory.numbers.get(NEXT).copied()
    }

    fn guards(&self) -> &[&'static str] {
        let end = if self.film.is_some() { GUARDS.len() } else { EACH };
        &GUARDS[self.first_guard()..end]
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        let is = |bit: u32| at.memory.mode & bit != 0;
        let (t, i) = (self.temperature(at), at.x(I));
        let hot = self.heat.map_or([-1.0; 2], |heat| match is(HOT) {
            false => [heat.reached(t), -1.0],
            true => [-1.0, heat.back(t)],
        });
        let film = self.film.filter(|_| self.touches(at)).map_or([-1.0; 2], |film| match is(BROKEN) {
            false => [film.breaks(i), -1.0],
            true => [-1.0, film.reforms(i)],
        });
        for (out, value) in out.iter_mut().zip(hot.into_iter().chain(film).skip(self.first_guard())) {
            *out = value;
        }
    }

    fn change(&self, trigger: Trigger, _: &At, change: &mut Change) {
        match (trigger, &self.loose) {
            (Trigger::Guard(guard), _) => {
                let guard = guard + self.first_guard();
                let bit = if guard < EACH { HOT } else { BROKEN };
                if guard.is_multiple_of(2) {
                    change.memory.mode |= bit;
                } else {
                    change.memory.mode &= !bit;
                }
                change.event(GUARDS[guard]);
            }
            (Trigger::Time, Some(loose)) => {
                let numbers = &mut change.memory.numbers;
                numbers[COUNT] += 1.0;
                numbers[NEXT] += loose.span(numbers[COUNT] as u64);
                // Rubbed, and wet again: the film is whole when they next touch.
                change.memory.mode = (change.memory.mode ^ APART) & !BROKEN;
                let apart = change.memory.mode & APART != 0;
                change.event(if apart { "comes apart" } else { "comes together" });
            }
            (Trigger::Time, None) => {}
        }
    }

    fn probes(&self) -> &[Probe] {
        if self.loose.is_some() { &PROBES } else { &PROBES[..1] }
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.hottest_spot(at),
            _ => f64::from(u8::from(at.memory.mode & APART == 0)),
        }
    }

    fn power(&self, at: &At) -> Power {
        let dissipated = match &self.heat {
            Some(heat) => heat.loss(at.x(T), self.temperature_c.si()).0,
            None => (at.x(A) - at.x(B)) * at.x(I),
        };
        Power { delivered: 0.0, dissipated }
    }

    fn stored(&self, at: &At) -> f64 {
        let warmth = |heat: JointHeat| heat.heat_capacity.si() * (at.x(T) - heat.ambient(self.temperature_c.si()));
        self.heat.map_or(0.0, warmth)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
