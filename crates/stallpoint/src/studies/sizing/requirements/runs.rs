//! Volts lost in the conductors there and back.

use crate::drive::{CircuitClass, Drive};
use crate::report::{Check, Side, percent};
use crate::studies::surge::checks::at;
use crate::studies::surge::{DirectionFacts, Facts};
use crate::tables::voltage_drop;

/// Nominal voltage of a block, V.
const BLOCK: f64 = 12.0;
/// The conductors of the loop.
const CONDUCTORS: [&str; 6] =
    ["battery_lead", "isolator_lead", "supply_cable", "motor_lead_a", "motor_lead_b", "ground_cable"];

/// Both runs together against a published percentage of the nominal voltage.
pub(super) fn checks(drive: &Drive, facts: &Facts) -> Vec<Check> {
    facts.directions.iter().map(|direction| check(drive, direction).keyed("run_drop")).collect()
}

fn check(drive: &Drive, facts: &DirectionFacts) -> Check {
    let requirement = "The conductors there and back do not drop too much voltage";
    let when = format!("{} {}, {}", facts.held, facts.direction, at(facts.hold));
    if let Some(why) = facts.held.unsettled() {
        return Check::missing(requirement, None, "V", why, when);
    }
    let drops = CONDUCTORS.iter().filter_map(|name| facts.volts_at_end.element(name));
    let drop: f64 = drops.map(|drop| drop.volts).sum();
    let [critical, noncritical] = voltage_drop::allowed_fractions();
    let (words, share) = match drive.limits.circuit_class {
        Some(CircuitClass::Critical) => ("critical", critical),
        Some(CircuitClass::Noncritical) => ("non-critical", noncritical),
        None => return Check::missing(requirement, Some(drop), "V", "limits.circuit_class is missing", when),
    };
    let nominal = BLOCK * f64::from(drive.battery.blocks_in_series);
    let basis = format!("{} of {nominal} V for a {words} circuit, {}", percent(share), voltage_drop::SOURCE);
    Check::against(requirement, drop, Side::AtMost, share * nominal, "V", basis, when).at_time(facts.hold)
}
