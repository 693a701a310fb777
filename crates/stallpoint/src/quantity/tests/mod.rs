//! Tests of the quantities.

mod conductor_size;
mod literals;
mod messages;
mod round_trip;
