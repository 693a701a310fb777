//! Instruments in circuits.

mod bad_joint;
mod clamp;
mod lamp;
mod ohmmeter;
mod support;
mod voltmeter;
