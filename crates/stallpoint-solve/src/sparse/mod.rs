//! Sparse square matrices of fixed pattern and their LU factors.

mod active;
mod analysis;
mod arrange;
mod buckets;
mod dense;
mod errors;
mod inspect;
mod lanes;
mod lu;
mod matching;
mod noise;
mod pattern;
mod refactor;
mod scaling;
mod schedule;
mod solve;

pub use errors::{FactorError, PatternError, StructurallySingular};
pub use lanes::{LANES, Lanes};
pub use lu::Lu;
pub use pattern::Pattern;
