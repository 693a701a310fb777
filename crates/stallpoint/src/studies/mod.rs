//! Studies: questions put to a drive, answered from its runs.

pub mod commissioning;
pub mod duty;
pub mod faultfinding;
pub mod sizing;
pub mod surge;
pub mod sweep;
