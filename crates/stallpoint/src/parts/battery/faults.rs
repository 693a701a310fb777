//! What can be wrong with a battery.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Fraction, Resistance};

/// Faults of a battery; all healthy by default.
///
/// ```text
/// reversed:    v_minus - v_plus where the healthy battery has v_plus - v_minus
/// bad string:  one of the strings in parallel has an equation and a charge of its own, with
///              V_oc (1 - dead_cells / cells),  R (1 - dead_cells / cells) + added_resistance,  Q capacity_left
/// ```
///
/// A bad string of a battery with one string is that string. The good strings charge it when its voltage is lower.
///
/// # Example
/// ```
/// use stallpoint::parts::{BadString, Battery, BatteryFaults};
///
/// let mut battery = Battery::flooded("100 Ah", "5 mohm")?;
/// let dead = BadString { dead_cells: 1, ..BadString::default() };
/// battery.faults = BatteryFaults { bad_string: Some(dead), ..BatteryFaults::default() };
/// assert!((battery.open_circuit_voltage() - 12.65 * 5.0 / 6.0).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct BatteryFaults {
    /// Whether its posts are exchanged: `plus` is its negative post.
    pub reversed: bool,
    /// One string that is not as good as the others.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bad_string: Option<BadString>,
}

/// What is wrong with one string; nothing by default.
///
/// Limits: a dead cell is shorted and stays so; a cell that is driven into reverse is not modelled; a string of a bank with a
/// lithium cut-off has none of its own.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct BadString {
    /// Shorted cells of the string: they have neither voltage nor resistance.
    pub dead_cells: u32,
    /// What sulphation, dried-out cells or a bad cell link add to the string's resistance, ohm.
    pub added_resistance: Resistance,
    /// Share of its capacity that is left, above 0 to 1.
    pub capacity_left: Fraction,
    /// Its state of charge at the start; that of the others when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub state_of_charge: Option<Fraction>,
    /// Whether it is open: a broken cell link.
    pub open: bool,
}

impl Default for BadString {
    fn default() -> Self {
        Self {
            dead_cells: 0,
            added_resistance: Resistance::from_si(0.0),
            capacity_left: Fraction::from_si(1.0),
            state_of_charge: None,
            open: false,
        }
    }
}

impl BatteryFaults {
    /// Whether nothing is wrong.
    pub fn none(&self) -> bool {
        *self == Self::default()
    }

    pub(super) fn check(&self, cells: u32) -> Result<(), PartError> {
        use crate::parts::{in_range, not_negative, share};
        let Some(bad) = self.bad_string else { return Ok(()) };
        if bad.dead_cells >= cells {
            let allowed = format!("fewer than the {cells} cells of a string; a string without any is `open`");
            return Err(PartError::range("faults.bad_string.dead_cells", bad.dead_cells, &allowed));
        }
        not_negative("faults.bad_string.added_resistance", bad.added_resistance)?;
        let left = bad.capacity_left;
        in_range(
            "faults.bad_string.capacity_left",
            left,
            left.si() > 0.0 && left.si() <= 1.0,
            "above 0 and at most 1",
        )?;
        match bad.state_of_charge {
            Some(soc) => share("faults.bad_string.state_of_charge", soc),
            None => Ok(()),
        }
    }
}
