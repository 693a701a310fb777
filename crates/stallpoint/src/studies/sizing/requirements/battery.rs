//! The battery: its management's cut-off, charging by an overhauling load, and the fault current that it can drive.

use crate::drive::Drive;
use crate::parts::CutOff;
use crate::report::{Check, Side, Verdict, quantity};
use crate::studies::surge::checks::limited;
use crate::studies::surge::{Facts, Found, Waveform};
use crate::tables::interrupting;

/// Nominal voltage of a block, V.
const BLOCK: f64 = 12.0;
/// A current into the battery below this is the instruments', A.
const NO_CHARGE: f64 = 1e-3;

pub(super) fn checks(drive: &Drive, facts: &Facts) -> Vec<Check> {
    let cut_off = over_current(drive, facts).into_iter().chain(under_voltage(drive, facts));
    cut_off.chain([charging(drive, facts)]).collect()
}

/// Its current against the cut-off's; none for a battery without such a cut-off.
fn over_current(drive: &Drive, facts: &Facts) -> Option<Check> {
    let requirement = "The battery's management does not cut off by current";
    let cut_off = drive.over_current()?;
    let check = if cut_off.delay > 0.0 {
        let currents = facts.directions.iter().flat_map(|direction| &direction.supply.currents);
        let longest =
            longest(currents, "above", |wave| wave.longest_above(cut_off.level, (1.0 - CutOff::BACK) * cut_off.level));
        let basis = format!("{}_delay, data sheet, above {}", cut_off.key, quantity(cut_off.level, "A"));
        held(requirement, &longest, cut_off.delay, basis)
    } else {
        let peaks = facts.directions.iter().map(|direction| &direction.supply.peak);
        let peak = peaks.reduce(|known, other| if other.value > known.value { other } else { known })?;
        let basis = format!("{}, data sheet", cut_off.key);
        Check::against(requirement, peak.value, Side::AtMost, cut_off.level, "A", basis, &*peak.when).at_time(peak.time)
    };
    Some(check.keyed("battery_over_current"))
}

/// Its voltage against the cut-off's.
fn under_voltage(drive: &Drive, facts: &Facts) -> Option<Check> {
    let requirement = "The battery's management does not cut off by voltage";
    let cut_off = drive.under_voltage()?;
    let check = if cut_off.delay > 0.0 {
        let voltages = facts.directions.iter().flat_map(|direction| &direction.supply.voltages);
        let longest =
            longest(voltages, "below", |wave| wave.longest_below(cut_off.level, (1.0 + CutOff::BACK) * cut_off.level));
        let basis = format!("{}_delay, data sheet, below {}", cut_off.key, quantity(cut_off.level, "V"));
        held(requirement, &longest, cut_off.delay, basis)
    } else {
        let [forward, reverse] = facts.directions.each_ref().map(|direction| &direction.supply.sag);
        let lowest = if reverse.value < forward.value { reverse } else { forward };
        let basis = format!("{}, data sheet", cut_off.key);
        Check::against(requirement, lowest.value, Side::AtLeast, cut_off.level, "V", basis, &*lowest.when)
            .at_time(lowest.time)
    };
    Some(check.keyed("battery_under_voltage"))
}

/// The longest of the times that a measure finds in the runs.
fn longest<'w>(
    waves: impl Iterator<Item = &'w (String, Waveform)>,
    side: &str,
    measure: impl Fn(&Waveform) -> (f64, f64),
) -> Found {
    let mut longest = Found { value: 0.0, time: 0.0, when: format!("all runs: never {side} it") };
    for (what, wave) in waves {
        let (lasts, from) = measure(wave);
        if lasts > longest.value {
            let when = format!("{what}, from {} of it on", quantity(from, "s"));
            longest = Found { value: lasts, time: from, when };
        }
    }
    longest
}

/// How long something lasts against the delay of a cut-off.
fn held(requirement: &str, longest: &Found, delay: f64, basis: String) -> Check {
    Check::against(requirement, longest.value, Side::AtMost, delay, "s", basis, &*longest.when).at_time(longest.time)
}

/// What flows back into the battery when the load drives the motor.
fn charging(drive: &Drive, facts: &Facts) -> Check {
    let requirement = "The battery takes what an overhauling load gives back";
    let largest = facts.largest(|direction| &direction.supply.charging);
    let check = if largest.value <= NO_CHARGE {
        let basis = "nothing flows back in any run";
        Check::missing(requirement, Some(largest.value.max(0.0)), "A", basis, "all runs").judged(Verdict::Pass)
    } else {
        let limit = drive.limits.charging_current.map(|limit| limit.si());
        let name = ("limits.charging_current", "data sheet");
        limited(requirement, largest.value, Side::AtMost, limit, "A", name, &*largest.when).at_time(largest.time)
    };
    check.keyed("regeneration")
}

/// The breaker's interrupting capacity against what the battery's cold-cranking rating asks for: a series resistance that
/// comes from a cranking test would give too small a fault current.
pub(super) fn interrupting_by_table(drive: &Drive) -> Check {
    let device = drive.protection();
    let requirement = format!("The {}'s interrupting capacity fits the battery", device.name());
    let when = "opposite corner: battery full, warm and new, shortest path";
    if device.fuse().is_some() {
        let missing = "the table by cold-cranking amperes is for breakers; a fuse is held against the fault current";
        return Check::missing(requirement, None, "A", missing, when).keyed("interrupting_by_battery");
    }
    let battery = &drive.battery;
    let nominal = BLOCK * f64::from(battery.blocks_in_series);
    let cranking = battery.cold_cranking_amperes.map(|own| own.si() * f64::from(battery.strings_in_parallel));
    let capacity = device.interrupting_capacity().map(|capacity| capacity.si());
    let check = match (cranking.and_then(|own| interrupting::least_capacity(own, nominal)), capacity) {
        (Some(row), Some(capacity)) => {
            let basis = format!("main breaker, {}, by battery.cold_cranking_amperes", interrupting::SOURCE);
            Check::against(requirement, capacity, Side::AtLeast, row.main_a, "A", basis, when)
        }
        (Some(row), None) => {
            let check = Check::missing(
                requirement,
                None,
                "A",
                format!("{}.interrupting_capacity is missing", device.name()),
                when,
            );
            Check { limit: Some(row.main_a), ..check }
        }
        (None, capacity) if cranking.is_some() => {
            let missing = format!("{} covers 12 V and 24 V, not {nominal} V", interrupting::SOURCE);
            Check::missing(requirement, capacity, "A", missing, when)
        }
        (None, capacity) => {
            Check::missing(requirement, capacity, "A", "battery.cold_cranking_amperes is missing", when)
        }
    };
    check.keyed("interrupting_by_battery")
}
