//! Cable.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Power, Stamp, Terminal, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{ConductorSize, Current, Inductance, IntoQuantity, Length, Temperature};
use crate::tables::adiabatic::Insulation;
use crate::tables::conductors::{Conductor, StrandClass, max_resistance_per_m, resistance_at};

/// One run of cable at a constant conductor temperature: resistance in series with a damped inductance.
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
/// States: `current`, `inductor_current`.
///
/// Limits: the length is one way, so a loop has two cables; no heating; no capacitance; inductance as if the return run
/// lay close by.
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
    /// Conductor temperature, °C.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
    /// Inductance of one metre of this run, H (half of what a metre of a close pair has; typical, no source).
    #[serde(default = "close_pair")]
    pub inductance_per_metre: Inductance,
    /// Insulation; only studies use it.
    #[serde(default = "pvc")]
    pub insulation: Insulation,
    /// Current it may carry for ever, A, from the user's own table; only studies use it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ampacity: Option<Current>,
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

    fn run(&self) -> CableRun {
        CableRun { resistance: self.resistance(), inductance: self.inductance() }
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
        match self.ampacity {
            Some(ampacity) => super::above_zero("ampacity", ampacity),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.run().unknowns()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.run().evaluate(at, out);
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

/// A cable reduced to its two numbers.
#[derive(Debug, Clone, Copy)]
struct CableRun {
    resistance: f64,
    inductance: f64,
}

impl CableRun {
    fn damping(&self) -> f64 {
        self.inductance / DAMPING_TIME
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
        vec![Unknown::fast("current", "A", 1.0), Unknown::fast("inductor_current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let (i, i_l, damping) = (at.x(I), at.x(I_L), self.damping());
        super::branch_current(at, out, A, B, I);
        out.f(I, self.resistance * i + damping * (i - i_l) - at.x(A) + at.x(B));
        out.df(I, I, self.resistance + damping);
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
    }

    fn power(&self, at: &At) -> Power {
        let (i, eddy) = (at.x(I), at.x(I) - at.x(I_L));
        Power { delivered: 0.0, dissipated: self.resistance * i * i + self.damping() * eddy * eddy }
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.inductance * at.x(I_L) * at.x(I_L)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(*self)
    }
}
