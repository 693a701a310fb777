//! Sizing: requirements as data, corners and tolerances, and the search for what fits.

mod assess;
mod candidates;
mod corners;
mod evidence;
mod mass;
mod monte_carlo;
mod options;
mod outcome;
mod parallel;
mod ratings;
mod requirements;
mod search;
mod sensitivities;
mod stream;
mod tolerance;
mod trips;
mod worst_day;

pub use assess::{Assessment, assess};
pub use candidates::{Choice, Row};
pub use corners::{Corner, WorstCorners, worst_corners};
pub use evidence::{Evidence, Statics};
pub use mass::conductor_mass;
pub use monte_carlo::{MonteCarlo, MonteCarloOptions, monte_carlo};
pub use options::{Rule, SizingOptions};
pub use outcome::{Candidate, Outcome, State};
pub use requirements::{Case, KEYS, Requirement, Requirements};
pub use search::{size, size_with};
pub use sensitivities::{Sensitivity, sensitivities};
pub use stream::Stream;
pub use tolerance::{Distribution, Tolerance};
pub use trips::{Jogs, Reached};
pub use worst_day::WorstDay;
