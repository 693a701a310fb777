//! The reversing drive: its description, its circuit, its control, its faults.

mod alterations;
mod control;
mod cut_off;
mod description;
mod doubts;
mod fault;
mod file;
mod held;
mod limits;
mod protection;
mod start;
mod threshold;
mod wiring;

pub use alterations::{Alterations, Bridge, SERIES};
pub use control::{Control, Direction};
pub(crate) use description::may_be_absent;
pub use description::{
    Case, CoilReturn, ControlSupply, ControlWiring, Drive, FIELD_JOINTS, FUSE_JOINTS, JOINTS, SCHEMA,
};
pub(crate) use fault::number as number_of;
pub use fault::{Amount, Entry, Fault, Scale, Section, fault_catalogue};
pub use file::{BOAT_LIFT, CONVEYOR_GATE, STAGE_LIFT};
pub(crate) use file::{at as value_at, set as set_value};
pub use limits::{CircuitClass, Limits};
pub use protection::Protection;
pub(crate) use protection::make_room;
pub(crate) use start::largest;
pub use start::{Start, StartOptions, Surge, Trips};
pub use threshold::{First, StallThreshold};
