//! Implicit integration of `d/dt q(x) + f(x, t, mode) = 0` with events.
//!
//! Numerics only: nothing here knows what the unknowns mean.
//!
//! - [`System`] is the problem: `q`, `f`, their Jacobians in a fixed [`sparse::Pattern`], guards and scheduled times.
//! - [`integrate`] makes a transient, [`equilibrium`] solves `f = 0`.
//! - [`Step`] is the dense output of one step, [`Counters`] what a run cost.

mod counters;
pub mod dense;
mod equilibrium;
mod error;
mod events;
mod integrate;
mod jump;
mod method;
mod newton;
mod options;
mod restart;
mod rosenbrock;
pub mod sparse;
mod system;
mod trbdf2;
mod weights;

pub use counters::Counters;
pub use dense::Step;
pub use equilibrium::equilibrium;
pub use error::SolveError;
pub use integrate::{Ended, Ending, Flow, Observer, integrate};
pub use options::{Method, Options};
pub use system::{Cause, Evaluation, System};
