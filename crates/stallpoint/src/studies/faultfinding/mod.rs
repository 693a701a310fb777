//! Fault finding: what every instrument shows for every fault, which fault the readings point to, and what to measure next.

mod candidates;
mod case;
mod column;
mod contradiction;
mod finder;
mod measurement;
mod next_test;
mod places;
mod position;
mod random;
mod ranking;
mod reasons;
mod snapshot;
mod spread;
mod table;

pub use contradiction::Contradiction;
pub use finder::{FaultFinder, Ranked, Reading, ToldBy};
pub use measurement::{Measurement, Observed, Tool};
pub use next_test::{NextTest, StopRule};
pub use places::Cost;
pub use position::Held;
pub use snapshot::Behaviour;
pub use table::{FaultTable, TableOptions};
