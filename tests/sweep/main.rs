//! Sweeps: closed forms over a grid, one row per case, failures, threads, cancelling, the texts of errors.

mod cancel;
mod contract;
mod errors;
mod failures;
mod grid;
mod labels;
mod measures;
mod stall;
mod support;
mod threads;
