//! Breaker with a thermal trip.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::contact::Contact;
use super::trip_band::TripBand;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{Current, Fraction, IntoQuantity, Length, Resistance, Time, Voltage};

/// A breaker that trips by the accumulated integral of its trip band.
///
/// ```text
/// dA/dt = 1 / t(|i| / rated_current)   above the pick-up
/// dA/dt = -A / cooling_time_constant   below it
/// ```
///
/// Three such integrals run: of the band's fastest edge, of its slowest edge and of the device's own `band_position`. It
/// trips when its own reaches 1; the edges' go on with the current as it is, so that after a run the fastest below 1 means
/// that no device of this kind trips, the slowest above 1 that every one does. Pick-up is the first row of the position's
/// curve (the slowest's for positions between); it is located, with a drop-back 1e-5 lower.
///
/// States: `current`, `trip_fraction_fastest`, `trip_fraction_slowest`, `trip_fraction`; probes: `closed` (1 or 0).
/// Events: "trips", "recloses", and those of its [`Contact`].
///
/// Limits: no magnetic trip other than what the band's rows say; no influence of the ambient; no heating by currents below
/// the pick-up; a breaker with manual reset stays open for the run.
///
/// Source: accumulated integral after IEEE C37.112; the exponential decay below the pick-up is our own; contact: see
/// [`Contact`].
///
/// # Example
/// ```
/// use stallpoint::circuit::{Circuit, TransientOptions};
/// use stallpoint::parts::{Breaker, Resistor, TripBand, VoltageSource};
///
/// let band = TripBand::points([[1.1, 900.0], [2.0, 20.0]], [[1.4, 3600.0], [2.0, 80.0]])?;
/// let mut circuit = Circuit::new();
/// circuit.add("battery", VoltageSource::constant("12 V")?, [("plus", "p"), ("minus", "ground")])?;
/// circuit.add("breaker", Breaker::new("50 A", band)?, [("line", "p"), ("load", "m")])?;
/// circuit.add("stalled", Resistor::new("119 mohm")?, [("a", "m"), ("b", "ground")])?;
/// let run = circuit.transient(60.0, &TransientOptions::default())?;
/// assert_eq!(run.events[0].what, "trips");
/// assert!((run.events[0].time - 40.0).abs() < 1e-3); // 100 A, half way between 20 s and 80 s on log paper
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Breaker {
    /// Rated current, A: what the band's multiples count.
    pub rated_current: Current,
    /// Trip band.
    pub trip_band: TripBand,
    /// Where this device sits in its band: 0 fastest to 1 slowest.
    #[serde(default = "half")]
    pub band_position: Fraction,
    /// How it closes again.
    #[serde(default)]
    pub reset: Reset,
    /// With automatic reset: closes when its own integral has decayed to this (typical, no source).
    #[serde(default = "three_tenths")]
    pub recloses_at: Fraction,
    /// Time constant with which the integrals decay, s (typical, no source).
    #[serde(default = "minute")]
    pub cooling_time_constant: Time,
    /// Its contact; the closed resistance includes the bimetal.
    #[serde(default = "breaker_contact")]
    pub contact: Contact,
    /// Largest current it may break, A; only studies use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interrupting_capacity: Option<Current>,
}

/// How a breaker closes again after a trip.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Reset {
    /// By hand.
    #[default]
    Manual,
    /// By itself when it has cooled; it can restart a motor without warning.
    Automatic,
}

fn half() -> Fraction {
    Fraction::from_si(0.5)
}

fn three_tenths() -> Fraction {
    Fraction::from_si(0.3)
}

fn minute() -> Time {
    Time::from_si(60.0)
}

/// A device for up to 48 V: its gap and arc chute put some 60 V against the arc (typical, no source).
fn breaker_contact() -> Contact {
    Contact {
        closed_resistance: Resistance::from_si(1e-3),
        arc_voltage_per_metre: Voltage::from_si(10e3),
        gap: Length::from_si(5e-3),
        ..Contact::default()
    }
}

const LINE: usize = 0;
const LOAD: usize = 1;
const I: usize = 2;
/// The integrals: fastest edge, slowest edge, own.
const FASTEST: usize = 3;
const SLOWEST: usize = 4;
const OWN: usize = 5;
const TERMINALS: [Terminal; 2] = [electrical("line"), electrical("load")];
const PROBES: [Probe; 1] = [Probe { name: "closed", unit: "1" }];
const GUARDS: [&str; 7] = [
    Contact::GUARDS[0],
    Contact::GUARDS[1],
    Contact::GUARDS[2],
    "trips",
    "recloses",
    "passes the pick-up of the fastest edge",
    "passes the pick-up of the slowest edge",
];
const TRIPS: usize = Contact::NUMBERS;
const RECLOSES: usize = TRIPS + 1;
/// First of the two guards on pick-up.
const PASSES: usize = TRIPS + 2;
const LATCHED: u32 = 0;
const TRIPPED: u32 = 1;
/// Numbers of memory after the contact's: whether the current is above the pick-up of each edge.
const ABOVE: usize = Contact::NUMBERS;
/// Relative drop-back of the pick-up, far above what Newton's method leaves open in a current.
const DROP_BACK: f64 = 1e-5;

impl Breaker {
    /// A breaker in the middle of its band, with manual reset.
    ///
    /// # Errors
    /// A wrong unit; a rated current that is not above zero; a band that is none.
    pub fn new(rated_current: impl IntoQuantity<Current>, trip_band: TripBand) -> Result<Self, Error> {
        let breaker = Self {
            rated_current: super::quantity("rated_current", rated_current)?,
            trip_band,
            band_position: half(),
            reset: Reset::default(),
            recloses_at: three_tenths(),
            cooling_time_constant: minute(),
            contact: breaker_contact(),
            interrupting_capacity: None,
        };
        breaker.check()?;
        Ok(breaker)
    }

    /// Position in the band that the integral of local value `integral` belongs to.
    fn position(&self, integral: usize) -> f64 {
        match integral {
            FASTEST => 0.0,
            SLOWEST => 1.0,
            _ => self.band_position.si(),
        }
    }

    /// Which edge's pick-up the integral of local value `integral` obeys.
    fn edge(&self, integral: usize) -> usize {
        usize::from(self.position(integral) > 0.0)
    }
}

impl Part for Breaker {
    fn kind(&self) -> &'static str {
        "breaker"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("rated_current", self.rated_current)?;
        self.trip_band.check()?;
        let position = self.band_position;
        super::in_range("band_position", position, (0.0..=1.0).contains(&position.si()), "between 0 and 1")?;
        let cooled = self.recloses_at;
        super::in_range("recloses_at", cooled, cooled.si() > 0.0 && cooled.si() < 1.0, "above 0 and below 1")?;
        super::above_zero("cooling_time_constant", self.cooling_time_constant)?;
        self.contact.check()?;
        match self.interrupting_capacity {
            Some(capacity) => super::above_zero("interrupting_capacity", capacity),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![
            Unknown::fast("current", "A", 1.0),
            Unknown::accumulator("trip_fraction_fastest", 0.1, 0.0),
            Unknown::accumulator("trip_fraction_slowest", 0.1, 0.0),
            Unknown::accumulator("trip_fraction", 0.1, 0.0),
        ]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.contact.evaluate(at, out, LINE, LOAD, I, &at.memory.numbers[..Contact::NUMBERS]);
        let (rated, i) = (self.rated_current.si(), at.x(I));
        for integral in [FASTEST, SLOWEST, OWN] {
            let above = at.memory.numbers[ABOVE + self.edge(integral)] > 0.0;
            let (rate, by_i, by_itself) = if above {
                let (rate, slope) = self.trip_band.rate(self.position(integral), i.abs() / rated);
                (rate, slope * i.signum() / rated, 0.0)
            } else {
                let decay = -1.0 / self.cooling_time_constant.si();
                (decay * at.x(integral), 0.0, decay)
            };
            out.q(integral, at.x(integral));
            out.dq(integral, integral, 1.0);
            out.f(integral, -rate);
            out.df(integral, I, -by_i);
            out.df(integral, integral, -by_itself);
        }
    }

    fn memory(&self) -> Memory {
        let [phase, parted, full] = Contact::rest(true);
        Memory::new(LATCHED, [phase, parted, full, 0.0, 0.0])
    }

    fn guards(&self) -> &[&'static str] {
        &GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        let contact = &at.memory.numbers[..Contact::NUMBERS];
        self.contact.guard_values(at, LINE, LOAD, I, contact, &mut out[..TRIPS]);
        if at.memory.mode == LATCHED {
            out[TRIPS] = at.x(OWN) - 1.0;
        } else if self.reset == Reset::Automatic {
            out[RECLOSES] = self.recloses_at.si() - at.x(OWN);
        }
        let multiple = at.x(I).abs() / self.rated_current.si();
        for (edge, position) in [0.0, 1.0].into_iter().enumerate() {
            let pick_up = self.trip_band.pick_up(position);
            let above = at.memory.numbers[ABOVE + edge] > 0.0;
            out[PASSES + edge] = if above { pick_up * (1.0 - DROP_BACK) - multiple } else { multiple - pick_up };
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        Some(Contact::next_time(&memory.numbers))
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let mode = change.memory.mode;
        let (contact, above) = change.memory.numbers.split_at_mut(Contact::NUMBERS);
        let what = match trigger {
            Trigger::Time => self.contact.full_gap(at.x(I), contact),
            Trigger::Guard(TRIPS) if mode == LATCHED => {
                self.contact.part(at.t, at.x(I), contact);
                change.memory.mode = TRIPPED;
                Some("trips")
            }
            Trigger::Guard(RECLOSES) if mode == TRIPPED => {
                Contact::close(contact);
                change.memory.mode = LATCHED;
                Some("recloses")
            }
            Trigger::Guard(guard) if guard >= PASSES => {
                let edge = &mut above[guard - PASSES];
                *edge = 1.0 - *edge;
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
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        f64::from(u8::from(Contact::is_closed(&at.memory.numbers)))
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
