//! Fault finding: what every instrument shows for every fault, which fault the readings point to, and what to measure next.
//!
#![doc = include_str!("misleading.md")]
#![doc = include_str!("score.md")]

mod candidates;
mod case;
mod caution;
mod column;
mod compare;
mod contradiction;
mod finder;
mod limits;
mod meaning;
mod measurement;
mod next_test;
mod places;
mod plausible;
mod position;
mod procedure;
mod random;
mod ranking;
mod readings;
mod reasons;
mod score;
mod snapshot;
mod spread;
mod steps;
mod table;
mod tested;
mod twins;

pub use compare::{Comparison, compare};
pub use contradiction::Contradiction;
pub use finder::{FaultFinder, Ranked, Reading, ToldBy};
pub use limits::{ServiceLimit, service_limits};
pub use meaning::Meaning;
pub use measurement::{Measurement, Observed, Tool};
pub use next_test::{NextTest, StopRule};
pub use places::Cost;
pub use position::Held;
pub use procedure::cautions;
pub use readings::{ReadingRow, When, readings};
pub use score::{Order, Score, ScoreOptions, score};
pub use snapshot::Behaviour;
pub use steps::ProcedureStep;
pub use table::{FaultTable, TableOptions};
