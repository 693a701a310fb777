//! Studies: questions put to a drive, answered from its runs.

pub mod faultfinding;
pub mod surge;
pub mod sweep;
