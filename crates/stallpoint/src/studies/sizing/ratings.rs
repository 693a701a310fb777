//! What of a drive makes its waveforms, and what only judges them.

use crate::drive::{Drive, Limits};
use crate::error::Error;
use crate::parts::{Breaker, Cable, Fuse, Reset, TripBand};
use crate::quantity::{Current, Fraction, Resistance};
use crate::tables::adiabatic::Insulation;

/// Rated current of a breaker that never opens, A; multiple of its rated current at which a fuse begins to.
const NEVER: f64 = 1e12;

/// The drive without its ratings, its breaker held closed: what two drives must share to share their runs.
///
/// Taken away are names, limits, ampacities and insulations of cables that do not heat, the contactor's ratings and duty, the winding's highest
/// temperature, the cold-cranking rating, the battery's cut-off (the runs go on and are held against it afterwards), all of the
/// breaker but its contact, and of a fuse its band.
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
    if let Some(breaker) = &mut bare.breaker {
        *breaker = Breaker {
            contact: breaker.contact.clone(),
            reset: Reset::Manual,
            rated_current: Current::from_si(NEVER),
            ..Breaker::new(NEVER, TripBand::points([[2.0, 1e6]], [[2.0, 1e6]])?)?
        };
    }
    if let Some(fuse) = &mut bare.fuse {
        // Its rated current and cooling say how its resistance grows, and so stay.
        *fuse = Fuse {
            cold_resistance: Some(Resistance::from_si(fuse.resistance_when_cold())),
            class: None,
            trip_band: Some(TripBand::points([[NEVER, 1e6]], [[NEVER, 1e6]])?),
            band_position: Fraction::from_si(0.5),
            interrupting_capacity: None,
            ..fuse.clone()
        };
    }
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
