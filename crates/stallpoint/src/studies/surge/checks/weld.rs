//! Whether contacts may weld.

use super::super::facts::{Facts, Found};
use super::limited;
use crate::drive::Drive;
use crate::parts::spot_voltage;
use crate::report::{Check, Side};

/// Silver's melting point and a room, °C (R. Holm, Electric Contacts, 4th ed.; 20 °C our own choice).
const SILVER_MELTS_C: f64 = 1235.0 - 273.15;
const ROOM_C: f64 = 20.0;

pub(super) fn checks(drive: &Drive, facts: &Facts) -> Vec<Check> {
    let basis =
        "spots of silver melt: 2 sqrt(L (T^2 - T0^2)), Holm; contacts at 20 °C, all of the resistance taken as theirs";
    let closed = &facts.weld.closed_voltage;
    let melts_at = spot_voltage(SILVER_MELTS_C, ROOM_C);
    let requirement = "Closed contacts do not melt in the surge";
    let melts = Check::against(requirement, closed.value, Side::AtMost, melts_at, "V", basis, &*closed.when);
    let limits = &drive.limits;
    let energy = ("making_arc_energy", limits.making_arc_energy.map(|energy| energy.si()), "J");
    let i2t = ("making_bounce_i2t", limits.making_bounce_i2t.map(|i2t| i2t.si()), "A2 s");
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
