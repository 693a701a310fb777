//! Why an instrument is not put to a circuit.

use crate::error::Error;

/// A measurement that a careful technician refuses, or that the circuit does not allow.
#[derive(Debug, Clone, thiserror::Error)]
pub enum InstrumentError {
    /// A resistance is to be measured where there is a voltage.
    #[error(
        "resistance of \"{plus}\" to \"{minus}\": {voltage:.3} V are there; isolate the circuit, prove it dead, and measure again"
    )]
    Live {
        /// Node of the first probe.
        plus: String,
        /// Node of the second probe.
        minus: String,
        /// What is there without the meter, V.
        voltage: f64,
    },
    /// A lamp is to be put on more than its rating.
    #[error(
        "a {rated} V lamp from \"{plus}\" to \"{minus}\": {voltage:.3} V are there, more than its {highest} V; take a lamp for that voltage"
    )]
    AboveRating {
        /// Node of the first probe.
        plus: String,
        /// Node of the second probe.
        minus: String,
        /// Rated voltage of the lamp, V.
        rated: f64,
        /// Highest voltage it may be put on, V.
        highest: f64,
        /// What is there without the lamp, V.
        voltage: f64,
    },
    /// The circuit or the drive does not solve, or has no such node or part.
    #[error(transparent)]
    Circuit(#[from] Error),
}
