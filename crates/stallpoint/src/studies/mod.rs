//! Studies: questions put to a drive, answered from its runs.

pub mod duty;
pub mod surge;
pub mod sweep;
