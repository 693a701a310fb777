//! What the breaker protects: cables and winding, by the slow edge of its trip band.

use crate::drive::{Direction, Drive};
use crate::error::Error;
use crate::parts::Cable;
use crate::parts::motor::Motor;
use crate::report::{Check, Side};
use crate::tables::adiabatic;

/// Longest time for which heating counts as adiabatic, s (IEC 60364-4-43; from memory).
pub(super) const ADIABATIC: f64 = 5.0;

/// Time for which a cable withstands a current without losing heat, `k² S² / i²`, s (IEC 60364-5-54); none when its
/// insulation has no value of `k`.
pub(super) fn adiabatic_time(cable: &Cable, current: f64) -> Option<f64> {
    let area_mm2 = cable.area_m2() * 1e6;
    let k = adiabatic::k_value(cable.conductor, cable.insulation, area_mm2)?.k;
    Some((k * area_mm2 / current).powi(2))
}

/// Time until the winding of a stalled motor is at its limit, s; none when a datum is missing, infinite when it never is.
///
/// `C dT/dt = R(T) i² - (T - T_a)/R_th` is linear in `T`, so the time is a logarithm.
pub(super) fn winding_time(drive: &Drive, current: f64) -> Option<f64> {
    let Motor::PermanentMagnet(motor) = &drive.motor;
    let (capacity, limit) = (motor.heat_capacity?.si(), motor.max_winding_temperature_c?.si());
    let start = motor.winding_temperature_c.si();
    let rate = |t: f64| {
        let cooling = motor.thermal_resistance.map_or(0.0, |r| (t - motor.ambient_c.si()) / r.si());
        (motor.resistance_at(t) * current * current - cooling) / capacity
    };
    let (first, last) = (rate(start), rate(limit));
    if limit <= start {
        return Some(0.0);
    }
    if first <= 0.0 || last <= 0.0 {
        return Some(f64::INFINITY);
    }
    let slope = (last - first) / (limit - start);
    Some(if slope.abs() * (limit - start) < 1e-9 * first { (limit - start) / first } else { (last / first).ln() / slope })
}

/// Every current that the battery can drive through a cable is cut off before the cable is at its limit.
pub(super) fn breaker_protects_cables(drive: &Drive) -> Result<Check, Error> {
    let requirement = "The slowest device cuts off overcurrents before the supply cable is at its limit";
    let cable = &drive.supply_cable;
    let rated = drive.breaker.rated_current.si();
    let most = drive.locked_rotor(Direction::Forward)?.current("breaker")?.abs().max(rated);
    let Some(_) = adiabatic_time(cable, rated) else {
        let missing = "no k value is known for the supply cable's insulation";
        return Ok(Check::missing(requirement, None, "1", missing, "overcurrents up to the stall current"));
    };
    // The worst ratio of trip time to withstand, over currents whose withstand is short enough to be adiabatic. Up to ten
    // times the stall current: a short circuit at the contactor.
    let mut worst: Option<(f64, f64)> = None;
    for step in 0..=400 {
        let current = rated * (10.0 * most / rated).powf(f64::from(step) / 400.0);
        let Some(withstand) = adiabatic_time(cable, current).filter(|time| *time <= ADIABATIC) else { continue };
        let ratio = drive.breaker.trip_band.time(1.0, current / rated).map_or(f64::INFINITY, |trip| trip / withstand);
        if worst.is_none_or(|(known, _)| ratio > known) {
            worst = Some((ratio, current));
        }
    }
    let basis = "k²S² of IEC 60364-5-54 up to 5 s, slow edge of the trip band";
    Ok(match worst {
        Some((ratio, current)) => {
            let when = format!("worst at {current:.0} A: trip time over withstand time");
            Check::against(requirement, ratio, Side::AtMost, 1.0, "1", basis, when)
        }
        None => Check::missing(
            requirement,
            None,
            "1",
            "no current up to ten times the stall current brings the cable to its limit within 5 s; ampacity decides",
            "overcurrents up to ten times the stall current",
        ),
    })
}

/// The breaker's rated current against each long cable's ampacity.
pub(super) fn ampacity(drive: &Drive) -> Vec<Check> {
    [("supply cable", &drive.supply_cable), ("ground cable", &drive.ground_cable)]
        .into_iter()
        .map(|(name, cable)| {
            let requirement = format!("The breaker's rated current is within the {name}'s ampacity");
            let rated = drive.breaker.rated_current.si();
            match cable.ampacity {
                Some(ampacity) => Check::against(
                    requirement,
                    rated,
                    Side::AtMost,
                    ampacity.si(),
                    "A",
                    "ampacity given by the user",
                    "continuous",
                ),
                None => Check::missing(requirement, Some(rated), "A", format!("the {name}'s ampacity is missing"), "continuous"),
            }
        })
        .collect()
}
