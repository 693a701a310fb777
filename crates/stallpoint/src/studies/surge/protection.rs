//! What the breaker protects: cables, by the slow edge of its trip band, and itself.

use super::withstand::cable_limit_time;
use crate::drive::Drive;
use crate::parts::Cable;
use crate::report::{Check, Side};

/// Largest tripping current of a breaker over the ampacity of what it protects (IEC 60364-4-43, 433.1; from memory).
const CONVENTIONAL_OVERLOAD: f64 = 1.45;
/// Currents looked at between pick-up and fault current.
const CURRENTS: u32 = 400;

/// Every described cable that carries the motor's current behind the breaker: part, name, data.
pub(crate) fn cables_behind(drive: &Drive) -> Vec<(&'static str, &'static str, &Cable)> {
    let mut cables = vec![
        ("supply_cable", "supply cable", &drive.supply_cable),
        ("ground_cable", "ground cable", &drive.ground_cable),
    ];
    // Both leads are alike.
    cables.extend(drive.motor_lead.as_ref().map(|lead| ("motor_lead_a", "motor lead", lead)));
    cables
}

/// All that the breaker must do for the cables behind it, and whether it can break the fault.
pub(crate) fn checks(drive: &Drive, fault: f64) -> Vec<Check> {
    let cables = cables_behind(drive);
    let mut checks = Vec::new();
    checks.extend(cables.iter().map(|(_, name, cable)| short_circuit(drive, name, cable, fault).keyed("withstand")));
    checks.extend(cables.iter().map(|(_, name, cable)| rated_within_ampacity(drive, name, cable).keyed("ampacity")));
    checks.extend(cables.iter().map(|(_, name, cable)| small_overload(drive, name, cable).keyed("small_overload")));
    let device = drive.protection();
    let name = device.name();
    let requirement = format!("The {name} can break the fault current");
    let when = format!("dead short right behind the {name}");
    let breaks = match device.interrupting_capacity() {
        Some(limit) => {
            let basis = format!("{name}.interrupting_capacity, data sheet");
            Check::against(requirement, fault, Side::AtMost, limit.si(), "A", basis, when)
        }
        None => Check::missing(requirement, Some(fault), "A", format!("{name}.interrupting_capacity is missing"), when),
    };
    checks.push(breaks.keyed("interrupting"));
    checks
}

/// From the slowest device's pick-up to the fault current: it opens before the cable is at its limit.
fn short_circuit(drive: &Drive, name: &str, cable: &Cable, fault: f64) -> Check {
    let requirement = format!("The slowest device opens before the {name} is at its limit");
    let device = drive.protection();
    let first = device.trips_from(1.0);
    if cable_limit_time(cable, first).is_none() {
        let missing = format!("no k value is known for the {name}'s insulation");
        return Check::missing(requirement, None, "s", missing, "overcurrents");
    }
    if cable.ampacity.is_none() {
        let missing = format!("the {name}'s ampacity is missing");
        return Check::missing(requirement, None, "s", missing, "overcurrents");
    }
    if fault <= first {
        let missing =
            format!("even a dead short behind the {}, {fault:.0} A, does not open the slowest device", device.name());
        return Check::missing(requirement, None, "s", missing, "overcurrents").judged(crate::report::Verdict::Fail);
    }
    // The current at which the least of the withstand time is left over.
    let mut worst = (f64::NEG_INFINITY, first, 0.0, f64::INFINITY);
    for step in 0..=CURRENTS {
        let current = first * (fault / first).powf(f64::from(step) / f64::from(CURRENTS));
        let withstand = cable_limit_time(cable, current).unwrap_or(f64::INFINITY);
        let trip = device.trip_time(1.0, current).unwrap_or(f64::INFINITY);
        let ratio = if withstand.is_infinite() { 0.0 } else { trip / withstand };
        if ratio > worst.0 {
            worst = (ratio, current, trip, withstand);
        }
    }
    let (_, current, trip, withstand) = worst;
    let basis = "k²S² of IEC 60364-5-54 with the heat that the ampacity says gets out; slow edge of the trip band";
    let when = format!("worst at {current:.0} A, of all from {first:.0} A to a dead short's {fault:.0} A");
    Check::against(requirement, trip, Side::AtMost, withstand, "s", basis, when)
}

fn rated_within_ampacity(drive: &Drive, name: &str, cable: &Cable) -> Check {
    let device = drive.protection();
    let requirement = format!("The {}'s rated current is within the {name}'s ampacity", device.name());
    let rated = device.rated_current().si();
    match cable.ampacity {
        Some(ampacity) => {
            let basis = "the cable's ampacity, by the user; IEC 60364-4-43, 433.1 (from memory)";
            Check::against(requirement, rated, Side::AtMost, ampacity.si(), "A", basis, "continuous")
        }
        None => {
            let missing = format!("the {name}'s ampacity is missing");
            Check::missing(requirement, Some(rated), "A", missing, "continuous")
        }
    }
}

fn small_overload(drive: &Drive, name: &str, cable: &Cable) -> Check {
    let requirement = format!("A small overload of the {name} {} the slowest device", drive.protection().opens());
    let trips_from = drive.protection().trips_from(1.0);
    let when = "pick-up of the slowest device";
    match cable.ampacity {
        Some(ampacity) => {
            let limit = CONVENTIONAL_OVERLOAD * ampacity.si();
            let basis = "1.45 times the cable's ampacity; IEC 60364-4-43, 433.1 (from memory)";
            Check::against(requirement, trips_from, Side::AtMost, limit, "A", basis, when)
        }
        None => {
            let missing = format!("the {name}'s ampacity is missing");
            Check::missing(requirement, Some(trips_from), "A", missing, when)
        }
    }
}
