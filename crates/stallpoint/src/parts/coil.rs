//! Coil of a relay or contactor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Diode, Suppression};
use crate::circuit::{At, Part, Path, Power, Probe, Stamp, Terminal, Tie, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{Conductance, Inductance, IntoQuantity, Resistance, Temperature, Voltage};

/// The coil of a relay or contactor with its suppression.
///
/// ```text
/// dλ/dt = e,   λ = L(s) i,   L(s) = L_open + (L_sealed - L_open) s,   s = 0 open, 1 sealed
/// v = e + R(T) (i + G e)     G: core loss, beside the inductance
/// R(T) = R_20 (1 + α (T - 20 °C))
/// dE/dt = i e - ½ i² dL/dt,  E = ½ λ²/L: the last term is work on the armature, booked as dissipated
/// ```
///
/// The flux linkage is the state, so that the current follows when the armature moves: it dips at pull-in. Inside a
/// [`ReversingContactor`](super::ReversingContactor) the armature moves; as a part of its own (terminals `plus`, `minus`)
/// the armature stays open and the inductance is `open_inductance`.
///
/// States: `flux`, `suppressor_current` (from `minus` to `plus`); probes: `current` (that which makes the flux), `voltage`.
///
/// Limits: no saturation, no eddy-current delay but the core loss, one constant temperature.
///
/// Source: copper's α = 0.00393 1/K at 20 °C from IEC 60028; the defaults of the inductances follow a published
/// measurement of a 12 V, 275 ohm relay coil: 1.15 H open, 2.29 H closed.
///
/// # Example
/// ```
/// use stallpoint::parts::{Coil, Suppression};
///
/// let coil = Coil { suppression: Suppression::Diode, ..Coil::new("12 V", "24 ohm")? };
/// assert!((coil.resistance_at(120.0) / 24.0 - 1.393).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Coil {
    /// Rated voltage, V.
    pub rated_voltage: Voltage,
    /// Resistance at 20 °C, ohm.
    pub resistance: Resistance,
    /// Temperature of the winding, °C.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
    /// Inductance with the armature open, H; left out: the resistance times the 4.18 ms of the measured coil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub open_inductance: Option<Inductance>,
    /// Inductance with the armature sealed, H; left out: 1.99 times the open one, as measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sealed_inductance: Option<Inductance>,
    /// What limits its voltage when it is switched off.
    #[serde(default)]
    pub suppression: Suppression,
    /// The diode of the kinds of suppression that have one.
    #[serde(default)]
    pub suppression_diode: Diode,
    /// Core loss `G`, S; zero leaves it out (default typical, no source). It keeps the voltage of a cut coil finite.
    #[serde(default = "core_loss")]
    pub core_loss_conductance: Conductance,
}

fn twenty() -> Temperature {
    Temperature::from_si(20.0)
}

fn core_loss() -> Conductance {
    Conductance::from_si(1e-3) // typical, no source
}

/// Temperature coefficient of copper at 20 °C, 1/K (IEC 60028).
const COPPER: f64 = 0.00393;
/// Inductance over resistance of the measured coil, open: 1.15 H / 275 ohm.
const OPEN_TIME_CONSTANT: f64 = 1.15 / 275.0;
/// Inductance closed over open of the measured coil: 2.29 H / 1.15 H.
const CLOSING_GAIN: f64 = 2.29 / 1.15;

/// Share of the rated current below which a coil's current does not matter: drop-out is far above.
const MATTERS: f64 = 0.01;

/// Where an armature is, 0 open to 1 sealed, and how fast it moves, 1/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Position {
    pub(crate) value: f64,
    pub(crate) rate: f64,
}

impl Position {
    pub(crate) const OPEN: Self = Self { value: 0.0, rate: 0.0 };
    pub(crate) const SEALED: Self = Self { value: 1.0, rate: 0.0 };
}

/// Local values a coil lies on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Leads {
    pub(crate) plus: usize,
    pub(crate) minus: usize,
    pub(crate) flux: usize,
    pub(crate) suppressor: usize,
}

impl Coil {
    /// A coil at 20 °C without suppression.
    ///
    /// # Errors
    /// A wrong unit, or a value that is not above zero.
    pub fn new(
        rated_voltage: impl IntoQuantity<Voltage>,
        resistance: impl IntoQuantity<Resistance>,
    ) -> Result<Self, Error> {
        let coil = Self {
            rated_voltage: super::quantity("rated_voltage", rated_voltage)?,
            resistance: super::quantity("resistance", resistance)?,
            temperature_c: twenty(),
            open_inductance: None,
            sealed_inductance: None,
            suppression: Suppression::None,
            suppression_diode: Diode::default(),
            core_loss_conductance: core_loss(),
        };
        coil.check()?;
        Ok(coil)
    }

    /// Resistance at a temperature, ohm.
    pub fn resistance_at(&self, temperature_c: f64) -> f64 {
        self.resistance.si() * (1.0 + COPPER * (temperature_c - 20.0))
    }

    /// Inductance with the armature open, H.
    pub fn inductance_open(&self) -> f64 {
        self.open_inductance.map_or(OPEN_TIME_CONSTANT * self.resistance.si(), Inductance::si)
    }

    /// Inductance with the armature sealed, H.
    pub fn inductance_sealed(&self) -> f64 {
        self.sealed_inductance.map_or(CLOSING_GAIN * self.inductance_open(), Inductance::si)
    }

    /// Current at rated voltage and 20 °C, A.
    pub fn rated_current(&self) -> f64 {
        self.rated_voltage.si() / self.resistance.si()
    }

    fn inductance(&self, position: Position) -> f64 {
        self.inductance_open() + (self.inductance_sealed() - self.inductance_open()) * position.value
    }

    /// The current that makes the flux, A.
    pub(crate) fn current(&self, at: &At, leads: Leads, position: Position) -> f64 {
        at.x(leads.flux) / self.inductance(position)
    }

    /// Induced voltage per volt of `v - R i`, V/V.
    fn share(&self) -> f64 {
        1.0 / (1.0 + self.resistance_at(self.temperature_c.si()) * self.core_loss_conductance.si())
    }

    /// Its unknowns under the names given: flux linkage and suppressor current.
    pub(crate) fn unknowns_named(&self, flux: &'static str, suppressor: &'static str) -> [Unknown; 2] {
        let current = MATTERS * self.rated_current();
        [Unknown::fast(flux, "Wb", self.inductance_open() * current), Unknown::fast(suppressor, "A", current)]
    }

    /// Adds the coil's equations.
    pub(crate) fn stamp(&self, at: &At, out: &mut Stamp, leads: Leads, position: Position) {
        let Leads { plus, minus, flux, suppressor } = leads;
        let (r, g, share) =
            (self.resistance_at(self.temperature_c.si()), self.core_loss_conductance.si(), self.share());
        let by_flux = 1.0 / self.inductance(position);
        let (v, j) = (at.x(plus) - at.x(minus), at.x(suppressor));
        let i = at.x(flux) * by_flux;
        let emf = share * (v - r * i);

        let current = i + g * emf - j;
        for (terminal, sign) in [(plus, 1.0), (minus, -1.0)] {
            out.f(terminal, sign * current);
            out.df(terminal, plus, sign * g * share);
            out.df(terminal, minus, -sign * g * share);
            out.df(terminal, flux, sign * by_flux * share); // d(i + G e)/dλ, shortened
            out.df(terminal, suppressor, -sign);
        }

        out.q(flux, at.x(flux));
        out.dq(flux, flux, 1.0);
        out.f(flux, -emf);
        out.df(flux, plus, -share);
        out.df(flux, minus, share);
        out.df(flux, flux, share * r * by_flux);

        let row = self.suppression.row(&self.suppression_diode, -v, j);
        out.f(suppressor, row.residual);
        out.df(suppressor, plus, -row.by_voltage);
        out.df(suppressor, minus, row.by_voltage);
        out.df(suppressor, suppressor, row.by_current);
    }

    /// Heat in winding, core and suppressor, and work on the armature, W.
    pub(crate) fn lost(&self, at: &At, leads: Leads, position: Position) -> f64 {
        let r = self.resistance_at(self.temperature_c.si());
        let g = self.core_loss_conductance.si();
        let v = at.x(leads.plus) - at.x(leads.minus);
        let i = self.current(at, leads, position);
        let emf = self.share() * (v - r * i);
        let winding = i + g * emf;
        let motion = 0.5 * i * i * (self.inductance_sealed() - self.inductance_open()) * position.rate;
        r * winding * winding + g * emf * emf - v * at.x(leads.suppressor) + motion
    }

    /// Energy of its field, J.
    pub(crate) fn field(&self, at: &At, leads: Leads, position: Position) -> f64 {
        0.5 * at.x(leads.flux) * self.current(at, leads, position)
    }

    /// How it ties its terminals: a current that nothing damps cannot jump.
    pub(crate) fn tie(&self) -> Tie {
        let damped = self.core_loss_conductance.si() > 0.0 || self.suppression.damps();
        if damped { Tie::Conducts } else { Tie::Inductive }
    }
}

const PLUS: usize = 0;
const MINUS: usize = 1;
const LEADS: Leads = Leads { plus: PLUS, minus: MINUS, flux: 2, suppressor: 3 };
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];
const PROBES: [Probe; 2] = [Probe { name: "current", unit: "A" }, Probe { name: "voltage", unit: "V" }];

impl Part for Coil {
    fn kind(&self) -> &'static str {
        "coil"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use super::{above_zero, in_range, not_negative};
        above_zero("rated_voltage", self.rated_voltage)?;
        above_zero("resistance", self.resistance)?;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        let t = self.temperature_c;
        in_range("temperature_c", t, t.si() > -100.0 && t.si() < 400.0, "between -100 degC and 400 degC")?;
        if let Some(open) = self.open_inductance {
            above_zero("open_inductance", open)?;
        }
        if let Some(sealed) = self.sealed_inductance {
            let allowed = format!("at least the open inductance, {} H", self.inductance_open());
            in_range("sealed_inductance", sealed, sealed.si() >= self.inductance_open(), &allowed)?;
        }
        self.suppression.check()?;
        self.suppression_diode.check()?;
        not_negative("core_loss_conductance", self.core_loss_conductance)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        self.unknowns_named("flux", "suppressor_current").to_vec()
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        self.stamp(at, out, LEADS, Position::OPEN);
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(PLUS, MINUS, self.tie())]
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: self.lost(at, LEADS, Position::OPEN) }
    }

    fn stored(&self, at: &At) -> f64 {
        self.field(at, LEADS, Position::OPEN)
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, index: usize, at: &At) -> f64 {
        match index {
            0 => self.current(at, LEADS, Position::OPEN),
            _ => at.x(PLUS) - at.x(MINUS),
        }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
