//! Limits that the user sets.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Current, Energy, Fraction, JouleIntegral, Temperature, Time, Voltage};

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
    /// Whether the circuit is critical or not: the published percentage that its conductors may drop there and back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub circuit_class: Option<CircuitClass>,
    /// Least reserve of torque at locked rotor over what moves the load, as a fraction of that; none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub torque_reserve: Option<Fraction>,
    /// Longest time for which the control can be held, s: a timer, or a rule that is kept. A stall then lasts no longer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest_hold: Option<Time>,
    /// Longest on-time of an intermittent contactor, s, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contactor_on_time: Option<Time>,
    /// Current that the contactor's closed contacts withstand for `contactor_withstand_time`, A, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contactor_withstand_current: Option<Current>,
    /// Time of that current, s; given together with it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contactor_withstand_time: Option<Time>,
    /// Highest current that the isolator may make, A, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub isolator_making: Option<Current>,
    /// Highest current that the isolator may carry, A, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub isolator_carrying: Option<Current>,
    /// Highest current that the isolator may break, A, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub isolator_breaking: Option<Current>,
    /// Energy of the arcs while the contacts bounce on one making that does not weld them, J, from data sheet or test; only the
    /// detailed contactor knows it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub making_arc_energy: Option<Energy>,
    /// The same for `∫ i² dt` of the current while they bounce, A²·s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub making_bounce_i2t: Option<JouleIntegral>,
    /// Current at which the battery's management cuts off, A, once it has lasted `battery_over_current_delay`. For a battery
    /// described without a `cut_off` of its own; one that has it is held against that, and this is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub battery_over_current: Option<Current>,
    /// Delay of that cut-off, s; at once when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub battery_over_current_delay: Option<Time>,
    /// Terminal voltage at which the battery's management cuts off, V, at once; refused beside the battery's own `cut_off`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub battery_under_voltage: Option<Voltage>,
    /// Largest current with which the battery may be charged by an overhauling load, A.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charging_current: Option<Current>,
    /// Largest motor current that does not demagnetise its magnets, A, from its data sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub demagnetisation_current: Option<Current>,
}

/// Whether a circuit may lose much voltage (ABYC E-11, 11.14.2.6).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CircuitClass {
    /// At most 3 %.
    Critical,
    /// At most 10 %.
    Noncritical,
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
        let voltages = [
            ("least_battery_voltage", self.least_battery_voltage),
            ("battery_under_voltage", self.battery_under_voltage),
        ];
        for (argument, voltage) in voltages {
            voltage.map_or(Ok(()), |voltage| crate::parts::above_zero(argument, voltage))?;
        }
        let times = [
            ("time_to_speed", self.time_to_speed),
            ("longest_hold", self.longest_hold),
            ("contactor_on_time", self.contactor_on_time),
            ("contactor_withstand_time", self.contactor_withstand_time),
        ];
        for (argument, time) in times {
            time.map_or(Ok(()), |time| crate::parts::above_zero(argument, time))?;
        }
        let currents = [
            ("contactor_withstand_current", self.contactor_withstand_current),
            ("isolator_making", self.isolator_making),
            ("isolator_carrying", self.isolator_carrying),
            ("isolator_breaking", self.isolator_breaking),
            ("battery_over_current", self.battery_over_current),
            ("charging_current", self.charging_current),
            ("demagnetisation_current", self.demagnetisation_current),
        ];
        for (argument, current) in currents {
            current.map_or(Ok(()), |current| crate::parts::above_zero(argument, current))?;
        }
        self.making_arc_energy.map_or(Ok(()), |energy| crate::parts::above_zero("making_arc_energy", energy))?;
        self.making_bounce_i2t.map_or(Ok(()), |i2t| crate::parts::above_zero("making_bounce_i2t", i2t))?;
        if self.contactor_withstand_current.is_some() != self.contactor_withstand_time.is_some() {
            return Err(PartError::Description {
                problem:
                    "one of `contactor_withstand_current` and `contactor_withstand_time` is given without the other"
                        .into(),
                advice: "give both, as the data sheet does, or neither".into(),
            });
        }
        if let Some(delay) = self.battery_over_current_delay {
            crate::parts::not_negative("battery_over_current_delay", delay)?;
        }
        match self.torque_reserve {
            Some(reserve) => crate::parts::not_negative("torque_reserve", reserve),
            None => Ok(()),
        }
    }
}
