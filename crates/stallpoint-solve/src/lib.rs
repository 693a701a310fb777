//! Implicit integration of `d/dt q(x) + f(x, t, mode) = 0` with events.
//!
//! Numerics only: nothing here knows what the unknowns mean.

pub mod sparse;
