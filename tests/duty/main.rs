//! The duty study.

mod cycles;
mod examples;
mod limits;
mod one_body;
mod simulated;
mod support;
