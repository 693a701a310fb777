//! The solver alone, against closed forms and published values.

mod convergence;
mod dense_output;
mod equilibrium;
mod errors;
mod events;
mod firing;
mod index_two;
mod model;
mod references;
mod stability;
mod stick_slip;
mod stiff;
mod work;
