//! The benchmark problem: start and release of a 12 V reversing drive, written out by hand as a [`System`].
//!
//! All its values are invented; it uses nothing of the circuit layer, so that it measures the solver alone.
//!
//! [`System`]: stallpoint_solve::System

mod contact;
mod drive;
mod equations;
mod jacobian;
mod matrix;
mod modes;
mod parameters;
mod reference;
mod relay;
mod run;
mod samples;
pub mod unknowns;

pub use drive::Drive;
pub use matrix::{Matrices, VALUES};
pub use parameters::Variant;
pub use reference::{Difference, Reference, difference};
pub use run::{Run, options, rest, run, run_from};
pub use samples::{COLUMNS, END, POINTS, Samples, time};
