//! The built-in tables against published values.

mod adiabatic;
mod ampacity;
mod awg;
mod iec60228;
mod inverse_time;
mod nec;
mod open_circuit;
mod reference;
