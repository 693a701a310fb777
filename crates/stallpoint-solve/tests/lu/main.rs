//! The sparse LU against closed forms, dense elimination and its own counters.

mod dense;
mod exact;
mod harness;
mod lanes;
mod large;
mod prop;
mod repivot;
mod samples;
mod singular;
