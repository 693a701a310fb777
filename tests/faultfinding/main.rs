//! Faults, readings, the finder, commissioning.

mod catalogue;
mod commissioning;
mod finder;
mod fused;
mod limits;
mod misleading;
mod score;
mod support;
