//! What of a drive makes its waveforms, and what only judges them.

use crate::drive::{Drive, Limits};
use crate::error::Error;
use crate::parts::{Breaker, Cable, Reset, TripBand};
use crate::quantity::Current;
use crate::tables::adiabatic::Insulation;

/// Rated current of a breaker that never opens, A.
const NEVER: f64 = 1e12;

/// The drive without its ratings, its breaker held closed: what two drives must share to share their runs.
///
/// Taken away are names, limits, ampacities and insulations of cables that do not heat, the contactor's ratings and duty, the winding's highest
/// temperature, the cold-cranking rating, the battery's cut-off (the runs go on and are held against it afterwards) and all of the
/// breaker but its contact.
pub(super) fn without_ratings(drive: &Drive) -> Result<Drive, Error> {
    let mut bare = drive.clone();
    bare.name.clear();
    bare.note.clear();
    bare.limits = Limits::default();
    bare.battery.cold_cranking_amperes = None;
    bare.battery.cut_off = None;
    let contactor = &mut bare.contactor;
    contactor.highest_drop_out_voltage = None;
    contactor.making_current = None;
    contactor.carrying_current = None;
    contactor.breaking_current = None;
    contactor.duty = None;
    // What a cable heats by makes its waveform.
    for cable in cables(&mut bare).filter(|cable| !cable.heats) {
        cable.ampacity = None;
        cable.insulation = Insulation::Pvc70;
    }
    bare.motor.without_limit();
    bare.breaker = Breaker {
        contact: drive.breaker.contact.clone(),
        reset: Reset::Manual,
        rated_current: Current::from_si(NEVER),
        ..Breaker::new(NEVER, TripBand::points([[2.0, 1e6]], [[2.0, 1e6]])?)?
    };
    Ok(bare)
}

fn cables(drive: &mut Drive) -> impl Iterator<Item = &mut Cable> {
    let leads = [&mut drive.battery_lead, &mut drive.isolator_lead, &mut drive.motor_lead];
    leads.into_iter().flatten().chain([&mut drive.supply_cable, &mut drive.ground_cable])
}

/// The same as text: equal texts, equal runs.
pub(super) fn circuit_key(bare: &Drive) -> Result<String, Error> {
    Ok(bare.to_value()?.to_string())
}
