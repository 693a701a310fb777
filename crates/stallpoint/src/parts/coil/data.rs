//! What a data sheet says of a coil.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::{Diode, Suppression};
use super::faults::CoilFaults;
use super::winding::Winding;
use crate::circuit::Part;
use crate::error::Error;
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
/// [`ReversingContactor`](super::super::ReversingContactor) the armature moves; as a part of its own (terminals `plus`, `minus`)
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
    /// What is wrong with it. Inside a contactor each coil has its own faults, in
    /// [`ContactorFaults`](super::super::ContactorFaults), and these here must be left out.
    #[serde(default, skip_serializing_if = "CoilFaults::is_healthy")]
    pub faults: CoilFaults,
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
            rated_voltage: super::super::quantity("rated_voltage", rated_voltage)?,
            resistance: super::super::quantity("resistance", resistance)?,
            temperature_c: twenty(),
            open_inductance: None,
            sealed_inductance: None,
            suppression: Suppression::None,
            suppression_diode: Diode::default(),
            core_loss_conductance: core_loss(),
            faults: CoilFaults::default(),
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

    /// Resistance at a temperature with its own faults, ohm.
    pub fn faulty_resistance_at(&self, temperature_c: f64) -> f64 {
        self.resistance_at(temperature_c) * self.faults.turns_left() + self.faults.series_resistance()
    }

    /// What is left of it with faults.
    pub(crate) fn winding(&self, faults: &CoilFaults) -> Winding<'_> {
        let turns = faults.turns_left();
        let whole = self.resistance_at(self.temperature_c.si());
        let shorted = (1.0 - turns) / (turns * turns * whole);
        Winding {
            resistance: whole * turns + faults.series_resistance(),
            core_loss: self.core_loss_conductance.si() + shorted,
            open: self.inductance_open() * turns * turns,
            sealed: self.inductance_sealed() * turns * turns,
            turns,
            rated_current: self.rated_current(),
            suppression: &self.suppression,
            diode: &self.suppression_diode,
            suppressor: faults.suppressor,
        }
    }
}
