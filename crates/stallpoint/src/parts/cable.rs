//! Cable.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cable_heat::{BELOW, ConductorHeat, GUARDS, REACHED};
use crate::circuit::{At, Change, Memory, Part, Power, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{ConductorSize, Current, Inductance, IntoQuantity, Length, Temperature};
use crate::tables::adiabatic::Insulation;
use crate::tables::conductors::{Conductor, StrandClass, max_resistance_per_m, resistance_at};

/// One run of cable: resistance in series with a damped inductance; its conductor may heat.
///
/// ```text
/// v_a - v_b = R i + R_d (i - i_L)
/// L di_L/dt = R_d (i - i_L),    R_d = L / τ,  τ = 0.1 µs
/// R = r_20 · length · (1 + α (T - 20 °C)),    L = inductance_per_metre · length
/// ```
///
/// `R_d` stands for the eddy and proximity losses that every real cable has (τ typical, no source): it gives a current
/// that is cut off somewhere to go within some 0.1 µs, so that cables in series need no equal currents to start with.
///
/// With `heats` the conductor temperature is a state, and R follows it (see [`ConductorHeat`]):
///
/// ```text
/// C dT/dt = R i² + R_d (i - i_L)² - G (T - T_ambient)
/// G = ampacity² R(T_limit) / (T_limit - 30 °C)
/// ```
///
/// so that the ampacity, held for ever in air of 30 °C, brings the conductor to its limit.
///
/// States: `current`, `inductor_current`; with `heats` also `conductor_temperature` (°C), and the events "insulation limit
/// reached" and, 1 K below it, "insulation below its limit again".
///
/// Limits: the length is one way, so a loop has two cables; no capacitance; inductance as if the return run lay close by.
/// Heating: one temperature along the run and across it; the insulation stores no heat, so it is too fast for seconds to
/// minutes; the loss grows in proportion to the rise.
///
/// Source: resistance as [`resistance_basis`](Cable::resistance_basis) says; temperature after IEC 60028; inductance
/// typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::Cable;
///
/// let supply = Cable::new("35 mm2", "10 m")?;
/// assert!((supply.resistance() - 5.54e-3).abs() < 1e-12);
/// assert_eq!(supply.resistance_basis(), "IEC 60228 maximum for 35 mm2 flexible (class 5) copper");
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cable {
    /// Cross-section: "25 mm2", "2 AWG".
    pub cross_section: ConductorSize,
    /// Length of this run, one way, m.
    pub length: Length,
    /// Metal.
    #[serde(default = "copper")]
    pub conductor: Conductor,
    /// How it is stranded.
    #[serde(default)]
    pub strand_class: StrandClass,
    /// Conductor temperature, °C; where it starts when it `heats`.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
    /// Inductance of one metre of this run, H (half of what a metre of a close pair has; typical, no source).
    #[serde(default = "close_pair")]
    pub inductance_per_metre: Inductance,
    /// Insulation; studies use it, and heating takes its limit from it.
    #[serde(default = "pvc")]
    pub insulation: Insulation,
    /// Current it may carry for ever, A, from the user's own table; heating needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ampacity: Option<Current>,
    /// Whether its conductor temperature follows the current; it stays constant when false.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub heats: bool,
    /// Temperature around it, °C; the conductor's at the start when left out. Only with `heats`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ambient_c: Option<Temperature>,
    /// Conductor temperature that the insulation stands for ever and that the ampacity is for, °C: 60, 90 or 105 for other
    /// PVC (typical, no source); that of `insulation` when left out. Heating and the duty study use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit_c: Option<Temperature>,
}

fn copper() -> Conductor {
    Conductor::Copper
}

fn twenty() -> Temperature {
    Temperature::from_si(20.0)
}

fn close_pair() -> Inductance {
    Inductance::from_si(0.3e-6) // typical, no source
}

fn pvc() -> Insulation {
    Insulation::Pvc70
}

/// Time constant of the damping, s (typical, no source).
const DAMPING_TIME: f64 = 1e-7;

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const I_L: usize = 3;
const T: usize = 4;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl Cable {
    /// A flexible copper cable at 20 °C.
    ///
    /// # Errors
    /// A wrong unit; a length that is not above zero.
    pub fn new(
        cross_section: impl IntoQuantity<ConductorSize>,
        length: impl IntoQuantity<Length>,
    ) -> Result<Self, Error> {
        let cable = Self {
            cross_section: super::quantity("cross_section", cross_section)?,
            length: super::quantity("length", length)?,
            conductor: copper(),
            strand_class: StrandClass::default(),
            temperature_c: twenty(),
            inductance_per_metre: close_pair(),
            insulation: pvc(),
            ampacity: None,
            heats: false,
            ambient_c: None,
            limit_c: None,
        };
        cable.check()?;
        Ok(cable)
    }

    /// Resistance of this run at its temperature, ohm.
    pub fn resistance(&self) -> f64 {
        let per_metre = max_resistance_per_m(self.cross_section, self.strand_class, self.conductor).ohm_per_m;
        resistance_at(per_metre * self.length.si(), self.temperature_c.si(), self.conductor)
    }

    /// The table or formula that the resistance at 20 °C comes from, in words.
    pub fn resistance_basis(&self) -> String {
        max_resistance_per_m(self.cross_section, self.strand_class, self.conductor).basis
    }

    /// Inductance of this run, H.
    pub fn inductance(&self) -> f64 {
        self.inductance_per_metre.si() * self.length.si()
    }

    /// Area of the metal, m².
    pub fn area_m2(&self) -> f64 {
        self.cross_section.area_m2()
    }

    /// Conductor temperature that its insulation stands for ever, °C.
    pub fn limit(&self) -> f64 {
        self.limit_c.map_or_else(|| self.insulation.continuous_limit_c(), |limit| limit.si())
    }

    /// What its heating follows from; none when the ampacity is missing or no heat capacity of the metal is known.
    pub fn conductor_heat(&self) -> Option<ConductorHeat> {
        let at_20c = Self { temperature_c: twenty(), ..self.clone() };
        ConductorHeat::new(at_20c.resistance(), self, self.ampacity?.si(), self.limit())
    }

    fn run(&self) -> CableRun {
        let heat = self.conductor_heat().filter(|_| self.heats);
        let (start, ambient) = (self.temperature_c.si(), self.ambient_c.unwrap_or(self.temperature_c).si());
        CableRun { resistance: self.resistance(), inductance: self.inductance(), heat, start, ambient }
    }
}

impl Part for Cable {
    fn kind(&self) -> &'static str {
        "cable"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("cross_section", self.cross_section)?;
        super::above_zero("length", self.length)?;
        let t = self.temperature_c;
        // Below about -230 °C the metals' straight lines would turn the resistance negative.
        super::in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")?;
        super::not_negative("inductance_per_metre", self.inductance_per_metre)?;
        if let Some(ampacity) = self.ampacity {
            super::above_zero("ampacity", ampacity)?;
        }
        if let Some(air) = self.ambient_c {
            super::in_range("ambient_c", air, air.si() > -100.0 && air.si() < 400.0, "between -100 degC and 400 degC")?;
        }
        if let Some(limit) = self.limit_c {
            super::in_range("limit_c", limit, limit.si() > 30.0 && limit.si() < 400.0, "between 30 degC and 400 degC")?;
        }
        if self.heats && self.conductor_heat().is_none() {
            return Err(PartError::Description {
                problem: "`heats` needs `ampacity`".into(),
                advice: "give the current that the cable may carry for ever, or leave `heats` out".into(),
            });
        }
        Ok(())
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.run().unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.run().evaluate(at, out);
    }

    fn memory(&self) -> Memory {
        self.run().memory()
    }

    fn guards(&self) -> &[&'static str] {
        if self.heats { &GUARDS } else { &[] }
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        self.run().guard_values(at, out);
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        self.run().change(trigger, at, change);
    }

    fn power(&self, at: &At) -> Power {
        self.run().power(at)
    }

    fn stored(&self, at: &At) -> f64 {
        self.run().stored(at)
    }

    // The copy that a circuit computes with has looked its resistance up.
    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.run())
    }
}

/// A cable reduced to its numbers.
#[derive(Debug, Clone, Copy)]
struct CableRun {
    /// At the constant temperature, ohm.
    resistance: f64,
    inductance: f64,
    heat: Option<ConductorHeat>,
    start: f64,
    ambient: f64,
}

impl CableRun {
    fn damping(&self) -> f64 {
        self.inductance / DAMPING_TIME
    }

    /// Resistance and its slope with temperature.
    fn ohms(&self, at: &At) -> (f64, f64) {
        self.heat.map_or((self.resistance, 0.0), |heat| heat.resistance(at.x(T)))
    }

    /// Heat set free in the run, W.
    fn heating(&self, at: &At) -> f64 {
        let (i, eddy) = (at.x(I), at.x(I) - at.x(I_L));
        self.ohms(at).0 * i * i + self.damping() * eddy * eddy
    }
}

impl Part for CableRun {
    fn kind(&self) -> &'static str {
        "cable"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let mut unknowns = vec![Unknown::fast("current", "A", 1.0), Unknown::fast("inductor_current", "A", 1.0)];
        if self.heat.is_some() {
            unknowns.push(Unknown::slow("conductor_temperature", "degC", 10.0, self.start));
        }
        unknowns
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (i, i_l, damping) = (at.x(I), at.x(I_L), self.damping());
        let (ohms, by_temperature) = self.ohms(at);
        super::branch_current(at, out, A, B, I);
        out.f(I, ohms * i + damping * (i - i_l) - at.x(A) + at.x(B));
        out.df(I, I, ohms + damping);
        out.df(I, I_L, -damping);
        out.df(I, A, -1.0);
        out.df(I, B, 1.0);
        // Divided by R_d, so that no inductance leaves i_L = i.
        if self.inductance > 0.0 {
            out.q(I_L, DAMPING_TIME * i_l);
            out.dq(I_L, I_L, DAMPING_TIME);
        }
        out.f(I_L, i_l - i);
        out.df(I_L, I_L, 1.0);
        out.df(I_L, I, -1.0);
        if let Some(heat) = self.heat {
            out.df(I, T, by_temperature * i);
            out.q(T, heat.capacity * at.x(T));
            out.dq(T, T, heat.capacity);
            out.f(T, heat.conductance * (at.x(T) - self.ambient) - self.heating(at));
            out.df(T, T, heat.conductance - by_temperature * i * i);
            out.df(T, I, -2.0 * (ohms * i + damping * (i - i_l)));
            out.df(T, I_L, 2.0 * damping * (i - i_l));
        }
    }

    fn memory(&self) -> Memory {
        Memory::new(BELOW, [])
    }

    fn guards(&self) -> &[&'static str] {
        if self.heat.is_some() { &GUARDS } else { &[] }
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        if let Some(heat) = self.heat {
            heat.guard_values(at.x(T), at.memory.mode, out);
        }
    }

    fn change(&self, trigger: Trigger, _: &At, change: &mut Change) {
        let Trigger::Guard(guard) = trigger else { return };
        change.memory.mode = if guard == 0 { REACHED } else { BELOW };
        change.event(GUARDS[guard]);
    }

    fn power(&self, at: &At) -> Power {
        let lost = match self.heat {
            Some(heat) => heat.conductance * (at.x(T) - self.ambient),
            None => self.heating(at),
        };
        Power { delivered: 0.0, dissipated: lost }
    }

    fn stored(&self, at: &At) -> f64 {
        let warmth = self.heat.map_or(0.0, |heat| heat.capacity * (at.x(T) - self.ambient));
        0.5 * self.inductance * at.x(I_L) * at.x(I_L) + warmth
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(*self)
    }
}
