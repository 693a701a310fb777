//! Voltage drops against the user's limits.

use super::super::facts::DirectionFacts;
use super::super::volts::Group;
use super::at;
use crate::drive::Drive;
use crate::report::{Check, Side, percent};

/// The drops at the end of the hold.
pub(super) fn checks(drive: &Drive, facts: &DirectionFacts) -> Vec<Check> {
    let volts = &facts.volts_at_end;
    let unsettled = facts.held.unsettled();
    let limits = &drive.limits;
    let between = |from: &str, to: &str| volts.between(from, to).unwrap_or(f64::NAN);
    let rows = [
        ("supply run", between("battery_positive", "supply_stud"), limits.supply_drop, "supply_drop"),
        ("ground run", between("ground_stud", "battery_negative"), limits.ground_drop, "ground_drop"),
        ("joints together", volts.group(Group::Joints).volts, limits.joints_drop, "joints_drop"),
        ("contactor", volts.group(Group::Contactor).volts, limits.contactor_drop, "contactor_drop"),
    ];
    let checks = rows.map(|(what, drop, limit, name)| {
        let verb = if what.starts_with("joints") { "do" } else { "does" };
        let requirement = format!("The {what} {verb} not drop too much voltage");
        let when = format!("{} {}, {}", facts.held, facts.direction, at(facts.hold));
        if let Some(why) = unsettled {
            return Check::missing(requirement, None, "V", why, when).keyed(name);
        }
        let check = match limit {
            Some(limit) => {
                let share = percent(limit.si());
                let basis = format!("limits.{name}, by the user: {share} of the open-circuit voltage");
                Check::against(requirement, drop, Side::AtMost, limit.si() * volts.open_circuit, "V", basis, when)
            }
            None => Check::missing(requirement, Some(drop), "V", format!("limits.{name} is missing"), when),
        };
        check.keyed(name).at_time(facts.hold)
    });
    checks.into()
}
