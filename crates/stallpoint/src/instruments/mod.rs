//! What a meter or a test lamp shows: each is put into the circuit, so that it loads what it measures.

mod attach;
mod clamp;
mod error;
mod instrument;
mod ohmmeter;
mod reading;

pub use clamp::Peak;
pub use error::InstrumentError;
pub use instrument::Instrument;
pub use ohmmeter::Ohmmeter;
pub use reading::{Reading, Word};
