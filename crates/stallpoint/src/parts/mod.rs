//! Parts, one file each. To add one: its file, its line here, its docs and its tests.

mod battery;
mod brightness;
mod cable;
mod cable_heat;
mod capacitor;
mod clamp_ammeter;
mod coil;
pub(crate) mod contact;
mod current_source;
mod diode;
mod inductor;
mod joint;
mod lamp;
mod list;
pub mod load;
pub mod motor;
mod protection;
mod resistor;
mod reversing_contactor;
mod shaft;
mod suppression;
mod switch;
mod voltage_source;
mod voltmeter;
mod waveform;

pub use battery::{BadString, Battery, BatteryFaults, CutOff, DischargeMisfit, DischargePoint, FittedBattery, Peukert};
pub use brightness::Brightness;
pub use cable::Cable;
pub(crate) use cable_heat::AMPACITY_AMBIENT_C;
pub use cable_heat::ConductorHeat;
pub use capacitor::Capacitor;
pub use clamp_ammeter::ClampAmmeter;
pub use coil::{Coil, CoilFaults, SuppressorFault};
pub use contact::Contact;
pub use current_source::CurrentSource;
pub use diode::Diode;
pub use inductor::Inductor;
pub use joint::{Constriction, Film, Joint, JointHeat, LORENZ, Loose, hottest_spot_c, spot_voltage};
pub use lamp::TestLamp;
pub use list::{part_from, part_kinds};
pub use motor::{CompoundMotor, PermanentMagnetMotor, SeriesMotor, ShuntMotor};
pub use protection::{
    Accumulated, Breaker, Derating, Edge, Fuse, GateCheck, HoldingHeater, InverseTimeBand, LinearDerating,
    MagneticTrip, Reset, ThermalBand, TripBand, TripPoints,
};
pub use resistor::Resistor;
pub use reversing_contactor::{
    ArmatureFault, ContactFault, ContactorDuty, ContactorFaults, DutyRating, MovingArmature, RestPosition,
    ReversingContactor,
};
pub use shaft::Shaft;
pub use suppression::Suppression;
pub use switch::Switch;
pub use voltage_source::VoltageSource;
pub use voltmeter::Voltmeter;
pub use waveform::Waveform;

use crate::circuit::{At, Stamp};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, IntoQuantity, Quantity};

/// Reads a quantity for a constructor, naming the argument in the error.
pub(crate) fn quantity<Q: Quantity>(argument: &str, value: impl IntoQuantity<Q>) -> Result<Q, Error> {
    value.into_quantity().map_err(|source| PartError::Quantity { argument: argument.into(), source }.into())
}

/// Refuses a quantity that is not finite and above zero.
pub(crate) fn above_zero<Q: Quantity>(argument: &str, value: Q) -> Result<(), PartError> {
    in_range(argument, value, value.si() > 0.0, &format!("above 0 {}", Q::UNIT))
}

/// Refuses a quantity that is not finite or below zero.
pub(crate) fn not_negative<Q: Quantity>(argument: &str, value: Q) -> Result<(), PartError> {
    in_range(argument, value, value.si() >= 0.0, &format!("0 {} or more", Q::UNIT))
}

/// Refuses a quantity for which `holds` is false or that is not finite.
pub(crate) fn in_range<Q: Quantity>(argument: &str, value: Q, holds: bool, allowed: &str) -> Result<(), PartError> {
    if holds && value.si().is_finite() { Ok(()) } else { Err(PartError::range(argument, value, allowed)) }
}

/// Refuses a share that is not from 0 to 1.
pub(crate) fn share(argument: &str, value: Fraction) -> Result<(), PartError> {
    let allowed = format!("between 0 and 1{}", per_cent(value.si()));
    in_range(argument, value, (0.0..=1.0).contains(&value.si()), &allowed)
}

/// What to add for a share that looks like per cent without their sign; a little above one is rather a slip of another kind.
pub(crate) fn per_cent(share: f64) -> String {
    if (5.0..=100.0).contains(&share) { format!("; \"{share} %\" perhaps?") } else { String::new() }
}

/// Adds the current of own unknown `i` as flow from local value `a` to `b`.
pub(crate) fn branch_current(at: &At, out: &mut Stamp, a: usize, b: usize, i: usize) {
    out.f(a, at.x(i));
    out.f(b, -at.x(i));
    out.df(a, i, 1.0);
    out.df(b, i, -1.0);
}
