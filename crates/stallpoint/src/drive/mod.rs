//! The reversing drive: its description, its circuit, its control, its faults.

mod control;
mod description;
mod fault;
mod file;
mod limits;
mod start;
mod threshold;
mod wiring;

pub use control::{Control, Direction};
pub(crate) use description::may_be_absent;
pub use description::{Case, CoilReturn, ControlSupply, ControlWiring, Drive, FIELD_JOINTS, JOINTS, SCHEMA};
pub use fault::Fault;
pub use file::{BOAT_LIFT, CONVEYOR_GATE, STAGE_LIFT};
pub use limits::{CircuitClass, Limits};
pub(crate) use start::largest;
pub use start::{Start, StartOptions, Surge, Trips};
pub use threshold::{First, StallThreshold};
