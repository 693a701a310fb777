//! Whether the battery's own management lets the drive have its current.

use super::super::facts::Facts;
use crate::drive::Drive;
use crate::report::{Check, quantity};

/// None for a battery without a cut-off.
pub(super) fn stays_connected(drive: &Drive, facts: &Facts) -> Option<Check> {
    let cut_off = drive.battery.cut_off.as_ref()?;
    let basis = format!(
        "battery.cut_off, data sheet: above {} for {}, below {} for {}",
        quantity(cut_off.over_current.si(), "A"),
        quantity(cut_off.over_current_delay.si(), "s"),
        quantity(cut_off.under_voltage.si(), "V"),
        quantity(cut_off.under_voltage_delay.si(), "s"),
    );
    let when = facts.cut_off.clone().unwrap_or_else(|| "all runs".into());
    let requirement = "The battery's management does not cut off";
    Some(Check::whether(requirement, facts.cut_off.is_none(), basis, when).keyed("battery_cut_off"))
}
