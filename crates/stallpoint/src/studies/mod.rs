//! Studies: questions put to a drive, answered from its runs.

pub mod commissioning;
pub mod faultfinding;
pub mod surge;
pub mod sweep;
