//! Studies: questions put to a drive, answered from its runs.

pub mod duty;
pub mod sizing;
pub mod surge;
pub mod sweep;
