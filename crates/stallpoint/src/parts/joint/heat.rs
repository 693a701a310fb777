//! How a joint's mass heats.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{HeatCapacity, Temperature, ThermalResistance};

/// Lug and stud of a joint as one body of heat.
///
/// ```text
/// C dT/dt = v i - (T - T_ambient) / R_th
/// R(T) = R (1 + α (T - 20 °C)) / (1 + α (T_start - 20 °C)),    T_start = joint's temperature_c
/// ```
///
/// At a constant current `T` goes to its end value with the time constant `1 / (1/τ - i² dR/dT / C)`, `τ = C R_th`; where that
/// is negative it runs away.
///
/// Limits: one temperature for lug and stud; the loss grows in proportion to the rise; what the conductor carries away is
/// part of `thermal_resistance`. All of the joint's resistance but its film grows like metal: for corrosion that is a
/// guess. Nothing melts or chars at the limit: an event says that it is reached.
/// An operating point (so a reading, a stall threshold, the volts lost) takes it at `temperature_c`; the duty study does not
/// carry its warmth from one cycle to the next.
///
/// Source: α of copper, IEC 60028; the other values typical, no source (some 50 g of copper, τ = 300 s).
///
/// # Example
/// ```
/// use stallpoint::parts::{Joint, JointHeat};
///
/// let joint = Joint { heat: Some(JointHeat::default()), ..Joint::new("60 mohm")? };
/// assert_eq!(joint.heat.unwrap().time_constant(), 300.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct JointHeat {
    /// Heat capacity of lug and stud, J/K.
    pub heat_capacity: HeatCapacity,
    /// From them to the air, K/W.
    pub thermal_resistance: ThermalResistance,
    /// Growth of the resistance at 20 °C, 1/K.
    pub temperature_coefficient: f64,
    /// Air around, °C; where the joint starts when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ambient_c: Option<Temperature>,
    /// What lug, insulation or stud stand, °C.
    pub limit_c: Temperature,
}

impl Default for JointHeat {
    fn default() -> Self {
        Self {
            heat_capacity: HeatCapacity::from_si(20.0),           // typical, no source
            thermal_resistance: ThermalResistance::from_si(15.0), // typical, no source
            temperature_coefficient: 0.00393,                     // copper, IEC 60028
            ambient_c: None,
            limit_c: Temperature::from_si(105.0), // typical, no source
        }
    }
}

/// How far below the limit counts as below it again, K (typical, no source).
const BACK: f64 = 1.0;

impl JointHeat {
    /// Heat capacity times thermal resistance, s.
    pub fn time_constant(&self) -> f64 {
        self.heat_capacity.si() * self.thermal_resistance.si()
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range};
        above_zero("heat.heat_capacity", self.heat_capacity)?;
        above_zero("heat.thermal_resistance", self.thermal_resistance)?;
        let alpha = self.temperature_coefficient;
        if !(0.0..=0.01).contains(&alpha) {
            return Err(PartError::Description {
                problem: format!("`heat.temperature_coefficient` is {alpha} 1/K, but must be between 0 and 0.01 1/K"),
                advice: "copper has 0.00393 1/K; 0 leaves the resistance as it is".into(),
            });
        }
        if let Some(air) = self.ambient_c {
            in_range("heat.ambient_c", air, (-79.0..400.0).contains(&air.si()), "between -79 degC and 400 degC")?;
        }
        let limit = self.limit_c;
        in_range("heat.limit_c", limit, limit.si() > 0.0 && limit.si() < 1000.0, "between 0 degC and 1000 degC")
    }

    /// How much the resistance has grown since `start` and the slope of that, 1 and 1/K.
    pub(super) fn growth(&self, temperature_c: f64, start: f64) -> (f64, f64) {
        let slope = self.temperature_coefficient / (1.0 + self.temperature_coefficient * (start - 20.0));
        (1.0 + slope * (temperature_c - start), slope)
    }

    /// Heat lost to the air and its slope, W and W/K.
    pub(super) fn loss(&self, temperature_c: f64, start: f64) -> (f64, f64) {
        let conductance = 1.0 / self.thermal_resistance.si();
        (conductance * (temperature_c - self.ambient(start)), conductance)
    }

    pub(super) fn ambient(&self, start: f64) -> f64 {
        self.ambient_c.map_or(start, |air| air.si())
    }

    /// Above zero where the limit is reached.
    pub(super) fn reached(&self, temperature_c: f64) -> f64 {
        temperature_c - self.limit_c.si()
    }

    /// Above zero where it is well below the limit.
    pub(super) fn back(&self, temperature_c: f64) -> f64 {
        self.limit_c.si() - BACK - temperature_c
    }
}
