//! Fuse.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::breaker::{Breaker, breaker_contact};
use super::fuse_running::RunningFuse;
use super::gate_check::{GateCheck, check_gates};
use super::integrals::TERMINALS;
use super::trip_band::TripBand;
use super::trip_points::TripPoints;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::error::{Error, PartError};
use crate::parts::contact::Contact;
use crate::quantity::{Current, Fraction, IntoQuantity, Resistance, Time};
use crate::tables::Status;
use crate::tables::trip_gates::{FuseClass, Gate, fuse_typicals, road_vehicle_fuse};

/// A fuse: its pre-arcing time by the band of its class, then an arc, then open for good.
///
/// ```text
/// dA/dt = 1 / t(|i| / rated_current)   above the least fusing current     blows at A = 1
/// dA/dt = -A / cooling_time_constant   below it
/// τ dΘ/dt = (i / rated_current)² - Θ,  R = cold_resistance (1 + (hot_cold_ratio - 1) Θ)
/// ```
///
/// The three integrals are a breaker's: fastest edge, slowest edge, own position. Beyond the band's last row `t ∝ 1/M²`, that
/// is, the melting I²t is constant; [`at_melting_i2t`](Fuse::at_melting_i2t) puts the fuse where its data sheet's value lies.
/// `τ` is the cooling time constant. What burns after the melting is the arc of its [`Contact`], whose "gap" grows to its
/// full length in the opening time; its current goes on heating the integrals.
///
/// The band comes from the gates of its `class` (its fastest edge on those that must hold, its slowest on those that must
/// open, both 0.1 % inside) unless `trip_band` gives a maker's own.
///
/// States: `current`, `trip_fraction_fastest`, `trip_fraction_slowest`, `trip_fraction`, `warmth`; probes: `closed` (1 or 0).
/// Events: "blows", and those of its contact.
///
/// Limits: the gates are for a fuse at room temperature; arcing I²t only as far as the arc's law gives it; beyond the fusing
/// current the resistance rises by the same line until it melts.
///
/// Source: gates ISO 8820-3, SAE J1284, SAE J2077, SAE J1888 (bolt-down: ISO 8820-5, from memory); accumulated integral after
/// IEEE C37.112; cold resistance: the mean of rated current times resistance on data sheets of the class.
///
/// # Example
/// ```
/// use stallpoint::circuit::{Circuit, TransientOptions};
/// use stallpoint::parts::{Fuse, Resistor, VoltageSource};
/// use stallpoint::tables::trip_gates::FuseClass;
///
/// let mut circuit = Circuit::new();
/// circuit.add("battery", VoltageSource::constant("12 V")?, [("plus", "p"), ("minus", "ground")])?;
/// circuit.add("fuse", Fuse::of_class(FuseClass::BladeAto, "20 A")?, [("line", "p"), ("load", "m")])?;
/// circuit.add("stalled", Resistor::new("0.2 ohm")?, [("a", "m"), ("b", "ground")])?;
/// let run = circuit.transient(60.0, &TransientOptions::default())?;
/// assert_eq!(run.events[0].what, "blows");
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fuse {
    /// Rated current, A.
    pub rated_current: Current,
    /// Class whose gates make the band.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<FuseClass>,
    /// Band of pre-arcing times, from a data sheet; instead of or over the class's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trip_band: Option<TripBand>,
    /// Where this fuse sits in its band: 0 fastest to 1 slowest.
    #[serde(default = "half")]
    pub band_position: Fraction,
    /// Time constant with which it warms and cools, s (typical, no source).
    #[serde(default = "ten_seconds")]
    pub cooling_time_constant: Time,
    /// Resistance when cold, ohm; from data sheets of the class when left out (60 mV over the rated current, typical, where
    /// none was read).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cold_resistance: Option<Resistance>,
    /// Resistance long after the rated current began, over the cold one (1.3 to 1.45 on data sheets of blade fuses).
    #[serde(default = "warm")]
    pub hot_cold_ratio: Fraction,
    /// The gap that the molten element leaves; its closed resistance does not count.
    #[serde(default = "breaker_contact")]
    pub contact: Contact,
    /// Largest current it may break, A; only studies use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interrupting_capacity: Option<Current>,
    /// Whether it is blown from the start.
    #[serde(default)]
    pub spent: bool,
}

/// Cold voltage drop at the rated current where no data sheet was read, V (typical, no source).
const TYPICAL_DROP: f64 = 0.06;

fn half() -> Fraction {
    Fraction::from_si(0.5)
}

fn ten_seconds() -> Time {
    Time::from_si(10.0)
}

fn warm() -> Fraction {
    Fraction::from_si(1.4)
}

impl Fuse {
    /// A fuse of a class, in the middle of its band.
    ///
    /// # Errors
    /// A wrong unit; a rated current outside those of the class.
    pub fn of_class(class: FuseClass, rated_current: impl IntoQuantity<Current>) -> Result<Self, Error> {
        Self::made(rated_current, Some(class), None)
    }

    /// A fuse with a maker's own band, in its middle.
    ///
    /// # Errors
    /// A wrong unit; a rated current that is not above zero; a band that is none.
    pub fn new(rated_current: impl IntoQuantity<Current>, trip_band: TripBand) -> Result<Self, Error> {
        Self::made(rated_current, None, Some(trip_band))
    }

    fn made(
        rated_current: impl IntoQuantity<Current>,
        class: Option<FuseClass>,
        trip_band: Option<TripBand>,
    ) -> Result<Self, Error> {
        let fuse = Self {
            rated_current: crate::parts::quantity("rated_current", rated_current)?,
            class,
            trip_band,
            band_position: half(),
            cooling_time_constant: ten_seconds(),
            cold_resistance: None,
            hot_cold_ratio: warm(),
            contact: breaker_contact(),
            interrupting_capacity: None,
            spent: false,
        };
        fuse.check()?;
        Ok(fuse)
    }

    /// This fuse at the position in its band where its melting I²t (A²s, for short times) is `i2t`.
    ///
    /// # Errors
    /// An I²t outside the band's, or a band that has none because it is not given by points.
    ///
    /// # Example
    /// ```
    /// use stallpoint::parts::Fuse;
    /// use stallpoint::tables::trip_gates::FuseClass;
    ///
    /// let fuse = Fuse::of_class(FuseClass::BladeMini, "15 A")?.at_melting_i2t(270.0)?;
    /// let position = fuse.band_position.si();
    /// assert!((fuse.trip_time(position, 300.0).unwrap() - 270.0 / 300.0f64.powi(2)).abs() < 1e-12);
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn at_melting_i2t(self, i2t: f64) -> Result<Self, Error> {
        let Some([fastest, slowest]) = self.melting_i2t() else {
            return Err(PartError::Description {
                problem: "`trip_band` has no melting I²t".into(),
                advice: "give the band by points".into(),
            }
            .into());
        };
        let position = (i2t / fastest).ln() / (slowest / fastest).ln();
        if !(0.0..=1.0).contains(&position) {
            let allowed = format!("within the band's {fastest:.0} A²s to {slowest:.0} A²s");
            return Err(PartError::range("i2t", format!("{i2t} A²s"), &allowed).into());
        }
        Ok(Self { band_position: Fraction::from_si(position), ..self })
    }

    /// Melting I²t for short times of the fastest and the slowest fuse, A²s; none for a band that is not given by points.
    pub fn melting_i2t(&self) -> Option<[f64; 2]> {
        let TripBand::Points(points) = self.band() else { return None };
        let last = [points.fastest.last(), points.slowest.last()].into_iter().flatten().map(|row| row[0]);
        let multiple = last.reduce(f64::max)?;
        let current = multiple * self.rated_current.si();
        let at = |position| Some(self.trip_time(position, current)? * current * current);
        Some([at(0.0)?, at(1.0)?])
    }

    /// The band it works by: its own, or that of its class.
    pub fn band(&self) -> TripBand {
        if let Some(band) = &self.trip_band {
            return band.clone();
        }
        let mut gates = self.gates();
        // Rows from memory only where nothing was read.
        if gates.iter().any(|gate| gate.status == Status::Read) {
            gates.retain(|gate| gate.status == Status::Read);
        }
        TripBand::Points(TripPoints::on_gates(&gates))
    }

    /// The gates of its class.
    pub fn gates(&self) -> Vec<Gate> {
        self.class.map(|class| road_vehicle_fuse(class, self.rated_current.si())).unwrap_or_default()
    }

    /// Resistance when cold, ohm: as given, or by data sheets of the class.
    pub fn resistance_when_cold(&self) -> f64 {
        if let Some(resistance) = self.cold_resistance {
            return resistance.si();
        }
        let drops: Vec<f64> = self.class.map(fuse_typicals).unwrap_or_default().iter().map(cold_drop).collect();
        let drop = if drops.is_empty() { TYPICAL_DROP } else { drops.iter().sum::<f64>() / drops.len() as f64 };
        drop / self.rated_current.si()
    }

    /// Least current, A, that blows a fuse at `position` (0 fastest to 1 slowest) sooner or later.
    pub fn trips_from(&self, position: f64) -> f64 {
        self.band().pick_up(position) * self.rated_current.si()
    }

    /// Pre-arcing time in s of a fuse at `position` that starts cold, under a steady `current` in A; none when it holds.
    pub fn trip_time(&self, position: f64, current: f64) -> Option<f64> {
        self.band().time(position, current.abs() / self.rated_current.si())
    }

    /// As [`TripBand::meets`].
    pub fn meets(&self, gates: &[Gate]) -> Vec<GateCheck> {
        let band = self.band();
        check_gates(gates, |position, multiple| band.time(position, multiple))
    }

    /// The breaker whose integrals are this fuse's: the same band, and nobody resets it.
    pub(crate) fn as_breaker(&self) -> Breaker {
        Breaker {
            band_position: self.band_position,
            cooling_time_constant: self.cooling_time_constant,
            contact: Contact {
                closed_resistance: Resistance::from_si(self.resistance_when_cold()),
                ..self.contact.clone()
            },
            interrupting_capacity: self.interrupting_capacity,
            ..Breaker::unchecked(self.rated_current, self.band())
        }
    }

    fn running(&self) -> RunningFuse {
        RunningFuse::new(self)
    }
}

fn cold_drop(typical: &crate::tables::trip_gates::FuseTypical) -> f64 {
    typical.cold_resistance * typical.rating
}

impl Part for Fuse {
    fn kind(&self) -> &'static str {
        "fuse"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        crate::parts::above_zero("rated_current", self.rated_current)?;
        match (&self.trip_band, self.class) {
            (Some(band), _) => band.check()?,
            (None, Some(class)) if self.gates().is_empty() => {
                let allowed = format!("one of the rated currents of class {}", class.name());
                return Err(PartError::range("rated_current", self.rated_current, &allowed));
            }
            (None, Some(_)) => {}
            (None, None) => {
                return Err(PartError::Description {
                    problem: "neither `class` nor `trip_band` is given".into(),
                    advice: "give the fuse's class, or its time-current points".into(),
                });
            }
        }
        let position = self.band_position;
        crate::parts::share("band_position", position)?;
        crate::parts::above_zero("cooling_time_constant", self.cooling_time_constant)?;
        if let Some(resistance) = self.cold_resistance {
            crate::parts::above_zero("cold_resistance", resistance)?;
        }
        let ratio = self.hot_cold_ratio;
        crate::parts::in_range("hot_cold_ratio", ratio, ratio.si() >= 1.0, "1 or more")?;
        self.contact.check()?;
        match self.interrupting_capacity {
            Some(capacity) => crate::parts::above_zero("interrupting_capacity", capacity),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        RunningFuse::all_unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.running().evaluate(at, out);
    }

    fn memory(&self) -> Memory {
        RunningFuse::start(self.spent)
    }

    fn guards(&self) -> &[&'static str] {
        &RunningFuse::GUARDS
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        self.running().guard_values(at, out);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        Some(Contact::next_time(&memory.numbers))
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        self.running().change(trigger, at, change);
    }

    fn power(&self, at: &At) -> Power {
        self.running().power(at)
    }

    fn probes(&self) -> &[Probe] {
        &RunningFuse::PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        self.running().probe(index, at)
    }

    // The copy that a circuit computes with has its curves ready.
    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.running())
    }
}
