//! Whether contacts may weld.

use super::super::facts::{Facts, Found};
use super::limited;
use crate::drive::Drive;
use crate::report::{Check, Side};

/// Lorenz number `L`, V²/K², and silver's melting point, K (R. Holm, Electric Contacts, 4th ed.: `U = 2 √(L (T² - T₀²))`).
const LORENZ: f64 = 2.44e-8;
const SILVER_MELTS: f64 = 1235.0;
const ROOM: f64 = 293.0;

/// Voltage across a closed contact at which its spots melt, V.
pub(crate) fn melting_voltage() -> f64 {
    2.0 * (LORENZ * (SILVER_MELTS * SILVER_MELTS - ROOM * ROOM)).sqrt()
}

pub(super) fn checks(drive: &Drive, facts: &Facts) -> Vec<Check> {
    let basis = "spots of silver melt: 2 sqrt(L (T^2 - T0^2)), Holm; all of the resistance taken as theirs";
    let closed = &facts.weld.closed_voltage;
    let requirement = "Closed contacts do not melt in the surge";
    let melts = Check::against(requirement, closed.value, Side::AtMost, melting_voltage(), "V", basis, &*closed.when);
    let limits = &drive.limits;
    let energy = ("making_arc_energy", limits.making_arc_energy.map(|energy| energy.si()), "J");
    let i2t = ("making_bounce_i2t", limits.making_bounce_i2t, "A2s");
    let making = [
        bounces("The arcs of a bouncing making do not weld the contacts", energy, facts.weld.arc_energy.as_ref()),
        bounces("The current of a bouncing making does not weld the contacts", i2t, facts.weld.bounce_i2t.as_ref()),
    ];
    let keyed = making.into_iter().zip(["weld_arc_energy", "weld_i2t"]);
    let keyed = keyed.filter_map(|(check, key)| Some(check?.keyed(key)));
    [melts.keyed("weld_voltage").at_time(closed.time)].into_iter().chain(keyed).collect()
}

/// A figure of the bounces against its limit; none where there is neither.
fn bounces(
    requirement: &str,
    (name, limit, unit): (&str, Option<f64>, &'static str),
    found: Option<&Found>,
) -> Option<Check> {
    let name = format!("limits.{name}");
    match (found, limit) {
        (Some(found), limit) => {
            let by = (&*name, "data sheet or test");
            let check = limited(requirement, found.value, Side::AtMost, limit, unit, by, &*found.when);
            Some(check.at_time(found.time))
        }
        (None, Some(limit)) => {
            let missing = "contactor.detailed is missing: the quick fidelity bounces by a list, whatever the speed";
            let check = Check::missing(requirement, None, unit, missing, "every making");
            Some(Check { limit: Some(limit), ..check })
        }
        (None, None) => None,
    }
}
