//! Faults: the catalogue of what may be wrong with a drive, and drives with faults in them.

mod catalogue;
mod entry;
mod fault;
mod section;

pub use catalogue::fault_catalogue;
pub(crate) use entry::number;
pub use entry::{Amount, Entry, Scale};
pub use fault::Fault;
pub use section::Section;
