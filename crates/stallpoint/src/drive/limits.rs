//! Limits that the user sets.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Fraction, Temperature, Time, Voltage};

/// Limits for the checks of a study. One left out is "not checked".
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// Least battery terminal voltage during the surge, V.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_battery_voltage: Option<Voltage>,
    /// Largest voltage drop from battery positive to the supply stud while running, as a fraction of the open-circuit
    /// voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply_drop: Option<Fraction>,
    /// Largest voltage drop from the ground stud to battery negative while running, as a fraction of the open-circuit
    /// voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ground_drop: Option<Fraction>,
    /// Largest voltage drop over all joints of the loop together while running, as a fraction of the open-circuit voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub joints_drop: Option<Fraction>,
    /// Largest voltage drop over the contactor's two contacts while running, as a fraction of the open-circuit voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contactor_drop: Option<Fraction>,
    /// Longest time to 95 % of the settled speed, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_to_speed: Option<Time>,
    /// Highest temperature of the coils that pull-in is checked at, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hot_coil_c: Option<Temperature>,
}

impl Limits {
    /// Refuses limits that nothing could meet.
    ///
    /// # Errors
    /// The argument, its value and what is allowed.
    pub fn check(&self) -> Result<(), PartError> {
        let drops = [
            ("supply_drop", self.supply_drop),
            ("ground_drop", self.ground_drop),
            ("joints_drop", self.joints_drop),
            ("contactor_drop", self.contactor_drop),
        ];
        for (argument, value) in drops {
            if let Some(value) = value {
                let holds = value.si() > 0.0 && value.si() < 1.0;
                crate::parts::in_range(argument, value, holds, "between 0 and 1 (or \"0 %\" and \"100 %\")")?;
            }
        }
        if let Some(voltage) = self.least_battery_voltage {
            crate::parts::above_zero("least_battery_voltage", voltage)?;
        }
        if let Some(time) = self.time_to_speed {
            crate::parts::above_zero("time_to_speed", time)?;
        }
        Ok(())
    }
}
