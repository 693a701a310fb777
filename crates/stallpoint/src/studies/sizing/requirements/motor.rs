//! The motor breaks away, and keeps its magnets.

use crate::drive::{Direction, Drive};
use crate::report::{Check, Side, percent};
use crate::studies::sizing::evidence::Statics;
use crate::studies::surge::Facts;

/// Torque at locked rotor against what moves the load, in each direction: the harder one decides.
pub(super) fn breakaway(drive: &Drive, statics: &Statics) -> Vec<Check> {
    let reserve = drive.limits.torque_reserve.map_or(0.0, |reserve| reserve.si());
    let rows = Direction::BOTH.into_iter().zip(&statics.locked).zip(statics.breakaway);
    let checks = rows.map(|((direction, locked), needed)| {
        let requirement = "The motor breaks away";
        let when = format!("locked rotor {direction}, {:.0} A", locked.motor[0].1);
        let limit = needed * (1.0 + reserve);
        let basis = match drive.limits.torque_reserve {
            Some(_) => format!("breakaway torque of motor and loads, and limits.torque_reserve, {}", percent(reserve)),
            None => "breakaway torque of motor and loads".to_string(),
        };
        // A load that nothing holds needs no torque to break away.
        let check = if limit > 0.0 {
            Check::against(requirement, locked.torque, Side::AtLeast, limit, "N m", basis, when)
        } else {
            Check::whether(requirement, locked.torque > 0.0, basis, when)
        };
        check.keyed("breakaway")
    });
    checks.collect()
}

/// None for a motor whose data sheet gives no such current.
pub(super) fn demagnetisation(drive: &Drive, facts: &Facts) -> Option<Check> {
    let limit = drive.limits.demagnetisation_current?.si();
    let peak = facts.largest(|direction| &direction.motor_peak);
    let basis = "limits.demagnetisation_current, data sheet";
    let requirement = "The surge does not demagnetise the motor";
    let check = Check::against(requirement, peak.value, Side::AtMost, limit, "A", basis, &*peak.when);
    Some(check.keyed("demagnetisation").at_time(peak.time))
}
