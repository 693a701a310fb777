//! Numbers with units in, checked by dimension.
//!
//! A physical argument is a number in the SI unit of its kind (temperatures: °C) or a text with a unit such as
//! `"25 mohm"`, `"24 ft"` or `"-5 degC"`. Each kind of quantity is its own type, so a voltage cannot be handed over as
//! a resistance, neither in code nor in a file.
//!
//! ```
//! use stallpoint::quantity::{IntoQuantity, QuantityError, Resistance};
//!
//! fn resistor(value: impl IntoQuantity<Resistance>) -> Result<f64, QuantityError> {
//!     Ok(value.into_quantity()?.si())
//! }
//! assert_eq!(resistor("25 mohm")?, 0.025);
//! assert_eq!(resistor(0.025)?, 0.025);
//! assert_eq!(
//!     resistor("25 mV").unwrap_err().to_string(),
//!     r#""25 mV" is a voltage; a resistance is expected, for example "25 mohm""#
//! );
//! # Ok::<(), QuantityError>(())
//! ```

mod awg;
mod conductor_size;
mod convert;
mod error;
mod into_quantity;
mod kind;
mod kinds;
mod number;
mod parse;
mod serial;
mod symbols;
mod unit;

#[cfg(test)]
mod tests;

pub use awg::{awg_area_m2, awg_diameter_m};
pub use conductor_size::ConductorSize;
pub use error::QuantityError;
pub use into_quantity::{IntoQuantity, Quantity};
pub use kinds::{
    Angle, AngularDamping, AngularSpeed, AngularStiffness, Area, Capacitance, Charge, Conductance, Current, Energy,
    FluxLinkage, Force, Fraction, Frequency, HeatCapacity, Inductance, Inertia, JouleIntegral, Length, Mass, Power,
    Pressure, QuadraticDrag, Resistance, Resistivity, Temperature, ThermalResistance, Time, Torque, TorqueConstant,
    Voltage, Volume,
};
