//! Circuits: parts by name between nodes by name, their operating point and their transient.

mod assembly;
mod catalogue;
mod circuit;
mod conformance;
mod energy;
mod event;
mod local;
mod memory;
mod operating_point;
mod part;
mod ports;
mod run;
mod state;
mod topology;
mod trace;
mod transient;

pub use circuit::Circuit;
pub(crate) use circuit::closest;
pub use conformance::{Conformance, ConformanceOptions, NotConforming, check_part};
pub use energy::{EnergyAccount, PartEnergy};
pub use event::Event;
pub use local::{At, LocalEquations, Stamp};
pub use memory::{Change, Memory, Trigger};
pub(crate) use operating_point::equilibrium_in_modes;
pub use operating_point::{OperatingOptions, OperatingPoint, StartFrom};
pub use part::{Domain, DryFriction, Pace, Part, Path, Power, Probe, Terminal, Tie, Unknown, electrical, path, shaft};
pub(crate) use ports::Ports;
pub use run::{Ending, Extremes, Run};
pub use stallpoint_solve::{Counters, Flow};
pub use state::State;
pub use trace::{Signal, Trace};
pub use transient::{Progress, TransientOptions, Watcher};
