//! Breaker with a thermal trip and, if it has one, a magnetic element.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::derating::{self, Derating};
use super::gate_check::{GateCheck, check_gates};
use super::integrals::{TERMINALS, unknowns};
use super::magnetic::MagneticTrip;
use super::reset::{HoldingHeater, Reset};
use super::running::RunningBreaker;
use super::trip_band::TripBand;
use super::trip_points::TripPoints;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown};
use crate::error::{Error, PartError};
use crate::parts::contact::Contact;
use crate::quantity::{Current, Fraction, IntoQuantity, Length, Resistance, Temperature, Time, Voltage};
use crate::tables::trip_gates::Gate;

/// A breaker that trips by the accumulated integral of its trip band.
///
/// ```text
/// dA/dt = 1 / t(|i| / (rated_current · f(ambient)))   above the pick-up
/// dA/dt = -A / cooling_time_constant                  below it
/// ```
///
/// Three such integrals run: of the band's fastest edge, of its slowest edge and of the device's own `band_position`. It
/// trips when its own reaches 1; the edges' go on with the current as it is, so that after a run the fastest below 1 means
/// that no device of this kind trips, the slowest above 1 that every one does. Pick-up is the first row of the position's
/// curve (the slowest's for positions between); it is located, with a drop-back 1e-5 lower. A [thermal](super::ThermalBand)
/// band has its own equation instead. `f` is the [`Derating`]'s factor, 1 without one.
///
/// A [`MagneticTrip`] operates beside it, on both edges and at the position; what has operated counts as 1 in its integral.
///
/// The strip lies in series with the contact: an arc that burns on after a trip goes on heating the integrals, as it does
/// in the device, and the breaker does not cool until it is out.
///
/// States: `current`, `trip_fraction_fastest`, `trip_fraction_slowest`, `trip_fraction`; probes: `closed` (1 or 0).
/// Events: "trips", "trips by its magnetic element", "recloses", and those of its [`Contact`].
///
/// Limits: with a band by points or by a standard curve, currents below the pick-up leave no heat; a breaker with manual
/// reset stays open for the run; the resistance does not change with temperature.
///
/// Source: accumulated integral after IEEE C37.112; the exponential decay below the pick-up is our own; kinds of reset after
/// SAE J553; contact: see [`Contact`].
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
    /// Magnetic element, if it has one; it latches, so that only a breaker with manual reset may.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnetic: Option<MagneticTrip>,
    /// How it closes again.
    #[serde(default)]
    pub reset: Reset,
    /// With automatic or modified reset: closes when its own integral has decayed to this (typical, no source).
    #[serde(default = "three_tenths")]
    pub recloses_at: Fraction,
    /// With modified reset: the heater across the open contact.
    #[serde(default, skip_serializing_if = "is_typical")]
    pub heater: HoldingHeater,
    /// Time constant with which the integrals decay, s (typical, no source).
    #[serde(default = "minute")]
    pub cooling_time_constant: Time,
    /// Ambient of the device, °C; given together with `derating`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ambient_c: Option<Temperature>,
    /// What the ambient makes of the rated current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub derating: Option<Derating>,
    /// Its contact; the closed resistance includes the bimetal.
    #[serde(default = "breaker_contact")]
    pub contact: Contact,
    /// Largest current it may break, A; only studies use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interrupting_capacity: Option<Current>,
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

fn is_typical(heater: &HoldingHeater) -> bool {
    *heater == HoldingHeater::default()
}

/// A device for up to 48 V: its gap and arc chute put some 60 V against the arc (typical, no source).
pub(super) fn breaker_contact() -> Contact {
    Contact {
        closed_resistance: Resistance::from_si(1e-3),
        arc_voltage_per_metre: Voltage::from_si(10e3),
        gap: Length::from_si(5e-3),
        ..Contact::default()
    }
}

impl Breaker {
    /// A breaker in the middle of its band, with manual reset.
    ///
    /// # Errors
    /// A wrong unit; a rated current that is not above zero; a band that is none.
    pub fn new(rated_current: impl IntoQuantity<Current>, trip_band: TripBand) -> Result<Self, Error> {
        let breaker = Self::unchecked(crate::parts::quantity("rated_current", rated_current)?, trip_band);
        breaker.check()?;
        Ok(breaker)
    }

    /// A breaker that no current trips: what stands in for a device that a description lacks.
    pub(crate) fn that_never_trips() -> Self {
        let never = TripPoints { fastest: Vec::new(), slowest: Vec::new() };
        Self::unchecked(Current::from_si(f64::INFINITY), TripBand::Points(never))
    }

    /// As [`new`](Breaker::new), whatever is given.
    pub(super) fn unchecked(rated_current: Current, trip_band: TripBand) -> Self {
        Self {
            rated_current,
            trip_band,
            band_position: half(),
            magnetic: None,
            reset: Reset::default(),
            recloses_at: three_tenths(),
            heater: HoldingHeater::default(),
            cooling_time_constant: minute(),
            ambient_c: None,
            derating: None,
            contact: breaker_contact(),
            interrupting_capacity: None,
        }
    }

    /// Rated current at its ambient, A: what the band's multiples really count.
    pub fn rated_at_ambient(&self) -> f64 {
        self.rated_current.si() * derating::factor(self.derating.as_ref(), self.ambient_c)
    }

    /// Least current, A, that trips a device at `position` (0 fastest to 1 slowest) sooner or later.
    pub fn trips_from(&self, position: f64) -> f64 {
        let thermal = self.rated_at_ambient() * self.trip_band.pick_up(position);
        let magnetic = self.magnetic.as_ref().map(|element| element.multiple(position) * self.rated_current.si());
        magnetic.map_or(thermal, |current| current.min(thermal))
    }

    /// Trip time in s of a device at `position` that starts cold, under a steady `current` in A, by its thermal and its
    /// magnetic element; none when it never trips.
    pub fn trip_time(&self, position: f64, current: f64) -> Option<f64> {
        let thermal = self.trip_band.time(position, current.abs() / self.rated_at_ambient());
        let multiple = current.abs() / self.rated_current.si();
        let magnetic = self.magnetic.as_ref().and_then(|element| element.time(position, multiple));
        [thermal, magnetic].into_iter().flatten().reduce(f64::min)
    }

    /// How the accumulated trip of a device at `position` changes under a current, `dA/dt = rate - decay · A`, both in 1/s.
    /// Without the magnetic element, which leaves no heat.
    pub(crate) fn accumulating(&self, position: f64, current: f64) -> (f64, f64) {
        let multiple = current.abs() / self.rated_at_ambient();
        if let TripBand::Thermal(band) = &self.trip_band {
            return band.accumulating(position, multiple);
        }
        match self.trip_band.time(position, multiple) {
            Some(time) => (1.0 / time, 0.0),
            None => (0.0, 1.0 / self.cooling_time_constant.si()),
        }
    }

    /// As [`TripBand::meets`], with the magnetic element and the ambient.
    pub fn meets(&self, gates: &[Gate]) -> Vec<GateCheck> {
        check_gates(gates, |position, multiple| self.trip_time(position, multiple * self.rated_current.si()))
    }

    /// This breaker made ready for many evaluations.
    fn running(&self) -> RunningBreaker {
        RunningBreaker::new(self)
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
        crate::parts::above_zero("rated_current", self.rated_current)?;
        self.trip_band.check()?;
        let position = self.band_position;
        crate::parts::share("band_position", position)?;
        if let Some(magnetic) = &self.magnetic {
            magnetic.check()?;
            if self.reset != Reset::Manual {
                return Err(PartError::Description {
                    problem: "`magnetic` is given to a breaker that resets by itself".into(),
                    advice: "a magnetic element leaves no heat to wait for: use reset = \"manual\" or leave it out"
                        .into(),
                });
            }
        }
        let cooled = self.recloses_at;
        crate::parts::in_range("recloses_at", cooled, cooled.si() > 0.0 && cooled.si() < 1.0, "above 0 and below 1")?;
        self.heater.check()?;
        crate::parts::above_zero("cooling_time_constant", self.cooling_time_constant)?;
        derating::check(self.derating.as_ref(), self.ambient_c)?;
        self.contact.check()?;
        match self.interrupting_capacity {
            Some(capacity) => crate::parts::above_zero("interrupting_capacity", capacity),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.running().evaluate(at, out);
    }

    fn memory(&self) -> Memory {
        self.running().memory()
    }

    fn guards(&self) -> &[&'static str] {
        RunningBreaker::guard_names(self.magnetic.is_some())
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        self.running().guard_values(at, out);
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        self.running().next_time(memory)
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        self.running().change(trigger, at, change);
    }

    fn power(&self, at: &At) -> Power {
        self.running().power(at)
    }

    fn probes(&self) -> &[Probe] {
        &RunningBreaker::PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        self.running().probe(index, at)
    }

    // The copy that a circuit computes with has its curves ready.
    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.running())
    }
}
