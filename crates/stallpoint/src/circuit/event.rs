//! What happened during a run.

/// One line of a run's list of events.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// When, s.
    pub time: f64,
    /// To which part.
    pub part: String,
    /// What: "coil A pulls in".
    pub what: String,
}

impl std::fmt::Display for Event {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "{:.6} s: {} {}", self.time, self.part, self.what)
    }
}
