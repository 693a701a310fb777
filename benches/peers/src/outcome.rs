//! What one run of a solver gives, whoever made it.

use crate::p1::{Difference, Reference, difference};

#[derive(Debug, Clone, Default)]
pub struct Outcome {
    pub seconds: f64,
    /// The four columns at every grid point.
    pub rows: Vec<[f64; 4]>,
    pub events: Vec<f64>,
    pub arcs: u32,
    pub steps: u64,
    pub rejected: u64,
    /// Restarts after failures.
    pub rescues: u32,
    pub failure: Option<String>,
}

impl Outcome {
    pub fn failed(why: String) -> Self {
        Self { failure: Some(why), ..Self::default() }
    }

    /// The measured error; infinite when the run failed or its events are not those of the reference.
    pub fn error(&self, reference: &Reference) -> Difference {
        let whole = self.failure.is_none()
            && self.rows.len() == reference.rows.len()
            && self.events.len() == reference.events.len();
        if whole {
            difference(&self.rows, &reference.rows, &reference.events)
        } else {
            Difference { max: f64::INFINITY, rms: f64::INFINITY, column: 0, at: 0.0 }
        }
    }
}
