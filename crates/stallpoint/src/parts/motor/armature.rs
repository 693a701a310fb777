//! The armature that every brushed motor has.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::faults::ArmatureFaults;
use super::variation::ResistanceVariation;
use crate::error::{Error, PartError};
use crate::quantity::{
    Angle, Current, HeatCapacity, Inductance, IntoQuantity, Resistance, Temperature, ThermalResistance, Voltage,
};

/// An armature with its brushes and its heat.
///
/// ```text
/// v_plus - v_minus = d/dt (L i) + R i + V_b tanh(i / I_b) + K_e ω
/// R = R_20 (1 + α (T - 20 °C)) · variation + faults,   α of copper
/// C dT/dt = R i² - (T - T_case) / R_th
/// C_case dT_case/dt = (T - T_case) / R_th + brush heat - (T_case - T_ambient) / R_case
/// ```
///
/// Without a case the winding cools straight to ambient; without a heat capacity its temperature stays. The heat of the
/// brushes (drop, wear, dead spot) goes to the case.
///
/// Limits: constant inductance, no armature reaction; two bodies at most.
///
/// Source: A. E. Fitzgerald et al., Electric Machinery; temperature coefficient from IEC 60028.
///
/// # Example
/// ```
/// use stallpoint::parts::motor::Armature;
///
/// let armature = Armature { brush_drop: "1 V".parse()?, ..Armature::new("30 mohm", "200 uH")? };
/// assert!(armature.resistance_at(120.0) > 0.041);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Armature {
    /// Resistance at 20 °C with brushes, ohm.
    pub resistance: Resistance,
    /// Inductance, H.
    pub inductance: Inductance,
    /// Brush drop `V_b`, V, both brushes together.
    #[serde(default)]
    pub brush_drop: Voltage,
    /// Current `I_b` at which the brush drop is about three quarters there, A (typical, no source).
    #[serde(default = "brush_current")]
    pub brush_current: Current,
    /// Winding temperature at the start, °C.
    #[serde(default = "twenty")]
    pub winding_temperature_c: Temperature,
    /// Ambient temperature, °C.
    #[serde(default = "twenty")]
    pub ambient_c: Temperature,
    /// Heat capacity of the winding, J/K; its temperature is constant when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_capacity: Option<HeatCapacity>,
    /// Thermal resistance winding to case, or to ambient without a case, K/W; no cooling when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thermal_resistance: Option<ThermalResistance>,
    /// The case as a second body of heat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub case: Option<MotorCase>,
    /// Highest winding temperature allowed, °C, from the data sheet or the insulation class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_winding_temperature_c: Option<Temperature>,
    /// Resistance by angle and speed.
    #[serde(default)]
    pub variation: ResistanceVariation,
    /// Shaft angle at the start, rad; counts only with a dead spot or a resistance that varies by angle.
    #[serde(default)]
    pub start_angle: Angle,
    /// What is wrong with it.
    #[serde(default)]
    pub faults: ArmatureFaults,
}

/// The case of a motor as a body of heat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MotorCase {
    /// Its heat capacity, J/K.
    pub heat_capacity: HeatCapacity,
    /// Thermal resistance case to ambient, K/W.
    pub thermal_resistance: ThermalResistance,
    /// Its temperature at the start, °C.
    #[serde(default = "twenty")]
    pub temperature_c: Temperature,
}

pub(super) fn brush_current() -> Current {
    Current::from_si(1.0) // typical, no source
}

pub(super) fn twenty() -> Temperature {
    Temperature::from_si(20.0)
}

/// Temperature coefficient of copper at 20 °C, 1/K (IEC 60028).
pub(crate) const COPPER: f64 = 0.00393;

impl Armature {
    /// A healthy armature without brush drop and heating.
    ///
    /// # Errors
    /// A wrong unit; a value that is not above zero.
    pub fn new(
        resistance: impl IntoQuantity<Resistance>,
        inductance: impl IntoQuantity<Inductance>,
    ) -> Result<Self, Error> {
        let armature = Self {
            resistance: crate::parts::quantity("resistance", resistance)?,
            inductance: crate::parts::quantity("inductance", inductance)?,
            brush_drop: Voltage::default(),
            brush_current: brush_current(),
            winding_temperature_c: twenty(),
            ambient_c: twenty(),
            heat_capacity: None,
            thermal_resistance: None,
            case: None,
            max_winding_temperature_c: None,
            variation: ResistanceVariation::default(),
            start_angle: Angle::default(),
            faults: ArmatureFaults::default(),
        };
        armature.check()?;
        Ok(armature)
    }

    /// Resistance of the healthy winding at a temperature, at rest, ohm.
    pub fn resistance_at(&self, temperature_c: f64) -> f64 {
        self.resistance.si() * (1.0 + COPPER * (temperature_c - 20.0))
    }

    /// Resistance at rest with faults, but without a dead spot, at a winding temperature, ohm.
    pub fn total_resistance_at(&self, temperature_c: f64) -> f64 {
        self.resistance_at(temperature_c) * self.faults.turns_left() + self.faults.series_resistance()
    }

    /// Whole brush drop, V.
    pub fn total_brush_drop(&self) -> f64 {
        self.brush_drop.si() + self.faults.brush_drop.si()
    }

    /// Whether the shaft's angle counts.
    pub(super) fn by_angle(&self) -> bool {
        self.faults.dead_spot.is_some() || self.variation.by_angle.si() != 0.0
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("resistance", self.resistance)?;
        above_zero("inductance", self.inductance)?;
        not_negative("brush_drop", self.brush_drop)?;
        above_zero("brush_current", self.brush_current)?;
        // Below -234.5 °C copper's straight line would turn its resistance negative.
        let usual = |argument: &str, value: Temperature| {
            in_range(argument, value, value.si() > -100.0 && value.si() < 400.0, "between -100 degC and 400 degC")
        };
        usual("winding_temperature_c", self.winding_temperature_c)?;
        usual("ambient_c", self.ambient_c)?;
        if let Some(capacity) = self.heat_capacity {
            above_zero("heat_capacity", capacity)?;
        }
        if let Some(resistance) = self.thermal_resistance {
            above_zero("thermal_resistance", resistance)?;
        }
        if let Some(case) = self.case {
            above_zero("case.heat_capacity", case.heat_capacity)?;
            above_zero("case.thermal_resistance", case.thermal_resistance)?;
            usual("case.temperature_c", case.temperature_c)?;
            if self.heat_capacity.is_none() || self.thermal_resistance.is_none() {
                return Err(PartError::Description {
                    problem: "a motor with a `case` needs `heat_capacity` and `thermal_resistance` of its winding"
                        .into(),
                    advice: "give both, or leave the case out".into(),
                });
            }
        }
        in_range("start_angle", self.start_angle, true, "a finite angle")?;
        self.variation.check()?;
        self.faults.check()
    }
}
