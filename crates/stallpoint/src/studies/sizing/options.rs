//! Settings of the sizing studies.

use super::corners::Corner;
use super::requirements::Requirements;
use super::trips::Jogs;
use crate::studies::surge::SurgeOptions;

/// Which of the candidates that fit is best. Ties go to the larger margin, then to the first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Rule {
    /// The lowest price; where one that fits has none, the least copper.
    #[default]
    LeastCost,
    /// The least mass of conductor.
    LeastCopper,
    /// The largest least margin.
    LargestMargin,
}

impl std::fmt::Display for Rule {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::LeastCost => "the lowest price, or where a price is missing the least conductor mass",
            Self::LeastCopper => "the least conductor mass",
            Self::LargestMargin => "the largest least margin",
        })
    }
}

/// Settings of a sizing study.
#[derive(Debug, Clone)]
pub struct SizingOptions {
    /// Settings of the runs; without the energy account by default.
    pub surge: SurgeOptions,
    /// The repeated jogs.
    pub jogs: Jogs,
    /// Corners in which every candidate is judged; the drive as described when there is none.
    pub corners: Vec<Corner>,
    /// Which requirements count.
    pub requirements: Requirements,
    /// What makes the best of those that fit.
    pub rule: Rule,
    /// Whether a candidate that already breaks a requirement without a transient is spared its transients. The same fit,
    /// the same is best; what else it would break is not told.
    pub bounds: bool,
    /// Whether candidates whose circuits are the same share their runs. The answer is the same to the last bit.
    pub share: bool,
    /// How many threads work at once; as many as the machine has when left out. The answer does not depend on it.
    pub threads: Option<usize>,
}

impl Default for SizingOptions {
    fn default() -> Self {
        let mut surge = SurgeOptions::default();
        surge.transient.energy = false;
        Self {
            surge,
            jogs: Jogs::default(),
            corners: Vec::new(),
            requirements: Requirements::default(),
            rule: Rule::default(),
            bounds: false,
            share: true,
            threads: None,
        }
    }
}
