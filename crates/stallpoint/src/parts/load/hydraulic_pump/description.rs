//! What a hydraulic pump and its circuit are described by.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;

use crate::circuit::Part;
use crate::error::Error;
use crate::quantity::{AngularSpeed, Fraction, Inertia, IntoQuantity, Pressure, Volume};

/// A bidirectional pump that moves a cylinder both ways, with a relief valve.
///
/// ```text
/// T = D p                             on the shaft, positive pressure at the forward outlet
/// (V/K) dp/dt = D ω - G p - q_load - q_relief
/// q_load   = (p - p_forward) / R      above the pressure that moves the load; the same backward with p_reverse
/// q_relief = (|p| - p_set) / R_v      above the relief valve's setting
/// ```
///
/// `D` is the displacement over 2π; `G` leaks the share `leakage` of the rated flow at the set pressure; `R` loses
/// `line_loss` at the rated flow; the relief valve passes the rated flow at `relief_override` above its setting. The load
/// stands on a check valve: it moves only while the pump's pressure is above what moves it, and at the end of the cylinder's
/// `stroke` it stands and the relief valve opens. The rated flow is `D` times the rated speed. Friction that makes up the
/// mechanical efficiency at each direction's working pressure goes to the shaft's dry friction.
///
/// States: `pressure` (Pa), `position` (share of the stroke); probes: `flow` (m³/s to the load), `relief_flow` (m³/s),
/// `shaft_torque` (N·m). Events: "moves the load forward", "reaches the forward end", "relief valve opens" and their
/// opposites.
///
/// Limits: one volume of oil under pressure, no cavitation, no inertia of the moved mass; friction does not grow with
/// pressure; a load that runs ahead is held by its valve and does not drive the pump.
///
/// Source: any textbook of hydraulics. Defaults are typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::load::HydraulicPump;
///
/// let pump = HydraulicPump::new("4 cm3", "160 bar", "110 bar", "60 bar")?;
/// assert!((pump.torque_at(160e5) - 160e5 * 4e-6 / std::f64::consts::TAU).abs() < 1e-9);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HydraulicPump {
    /// Oil moved by one turn, m³.
    pub displacement_per_turn: Volume,
    /// Setting of the relief valve, both ways, Pa.
    pub relief_pressure: Pressure,
    /// Pressure that moves the load forward, Pa.
    pub forward_pressure: Pressure,
    /// Pressure that moves the load backward, Pa.
    pub reverse_pressure: Pressure,
    /// Speed at which the rated flow is meant, rad/s.
    #[serde(default = "rated_speed")]
    pub rated_speed: AngularSpeed,
    /// Pressure lost in valves and lines at the rated flow, Pa.
    #[serde(default = "line_loss")]
    pub line_loss: Pressure,
    /// Share of the rated flow that leaks inside at the relief valve's setting.
    #[serde(default = "leakage")]
    pub leakage: Fraction,
    /// Rise above its setting at which the relief valve passes the rated flow, as a share of the setting.
    #[serde(default = "relief_override")]
    pub relief_override: Fraction,
    /// Mechanical efficiency at the working pressures, running.
    #[serde(default = "mechanical_efficiency")]
    pub mechanical_efficiency: Fraction,
    /// Volume of oil under pressure, m³.
    #[serde(default = "oil_volume")]
    pub oil_volume: Volume,
    /// Bulk modulus of the oil with its hoses, Pa.
    #[serde(default = "bulk_modulus")]
    pub bulk_modulus: Pressure,
    /// Oil that moves the cylinder from end to end, m³; it never ends when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stroke: Option<Volume>,
    /// Position at the start, as a share of the stroke.
    #[serde(default)]
    pub position: Fraction,
    /// Inertia it adds to the shaft, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

// All typical, no source.
fn rated_speed() -> AngularSpeed {
    AngularSpeed::from_si(2500.0 * TAU / 60.0)
}
fn line_loss() -> Pressure {
    Pressure::from_si(10e5)
}
fn leakage() -> Fraction {
    Fraction::from_si(0.08)
}
fn relief_override() -> Fraction {
    Fraction::from_si(0.1)
}
fn mechanical_efficiency() -> Fraction {
    Fraction::from_si(0.88)
}
fn oil_volume() -> Volume {
    Volume::from_si(0.3e-3)
}
fn bulk_modulus() -> Pressure {
    Pressure::from_si(1e9)
}

impl HydraulicPump {
    /// A pump by its displacement a turn (m³), relief pressure and the pressures (Pa) that move the load forward and
    /// backward, or texts with units.
    ///
    /// # Errors
    /// A wrong unit; a value outside its range; a relief pressure that is not above the working pressures.
    pub fn new(
        displacement_per_turn: impl IntoQuantity<Volume>,
        relief_pressure: impl IntoQuantity<Pressure>,
        forward_pressure: impl IntoQuantity<Pressure>,
        reverse_pressure: impl IntoQuantity<Pressure>,
    ) -> Result<Self, Error> {
        let pump = Self {
            displacement_per_turn: crate::parts::quantity("displacement_per_turn", displacement_per_turn)?,
            relief_pressure: crate::parts::quantity("relief_pressure", relief_pressure)?,
            forward_pressure: crate::parts::quantity("forward_pressure", forward_pressure)?,
            reverse_pressure: crate::parts::quantity("reverse_pressure", reverse_pressure)?,
            rated_speed: rated_speed(),
            line_loss: line_loss(),
            leakage: leakage(),
            relief_override: relief_override(),
            mechanical_efficiency: mechanical_efficiency(),
            oil_volume: oil_volume(),
            bulk_modulus: bulk_modulus(),
            stroke: None,
            position: Fraction::default(),
            inertia: Inertia::default(),
        };
        pump.check()?;
        Ok(pump)
    }

    /// Torque on the shaft at a pressure (Pa), without friction, N·m.
    pub fn torque_at(&self, pressure: f64) -> f64 {
        self.displacement() * pressure
    }

    /// Oil moved by one radian, m³.
    pub(super) fn displacement(&self) -> f64 {
        self.displacement_per_turn.si() / TAU
    }

    fn rated_flow(&self) -> f64 {
        self.displacement() * self.rated_speed.si()
    }

    /// Leakage, m³/s per Pa.
    pub(super) fn leak(&self) -> f64 {
        self.leakage.si() * self.rated_flow() / self.relief_pressure.si()
    }

    /// Conductance of lines and cylinder, m³/s per Pa.
    pub(super) fn line(&self) -> f64 {
        self.rated_flow() / self.line_loss.si()
    }

    /// Conductance of the open relief valve, m³/s per Pa.
    pub(super) fn relief(&self) -> f64 {
        self.rated_flow() / (self.relief_override.si() * self.relief_pressure.si())
    }

    /// Compliance of the oil, m³ per Pa.
    pub(super) fn compliance(&self) -> f64 {
        self.oil_volume.si() / self.bulk_modulus.si()
    }
}
