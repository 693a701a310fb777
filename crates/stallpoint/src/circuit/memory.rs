//! Discrete states of parts.

/// The discrete state of one part: a mode of its own numbering and a few numbers (timers, positions).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Memory {
    /// The mode, as the part numbers them.
    pub mode: u32,
    /// Numbers that belong to it. A timer that is not running is infinite.
    pub numbers: Vec<f64>,
}

impl Memory {
    /// A memory in `mode` with its numbers.
    pub fn new(mode: u32, numbers: impl Into<Vec<f64>>) -> Self {
        Self { mode, numbers: numbers.into() }
    }
}

/// Why a part's discrete state may change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trigger {
    /// Its guard of this index is positive.
    Guard(usize),
    /// A time it asked for has come.
    Time,
}

/// What a part does at a trigger: its next memory, resets, words for the list of events.
#[derive(Debug)]
pub struct Change {
    /// The next discrete state; starts as a copy of the present one.
    pub memory: Memory,
    pub(crate) resets: Vec<(usize, f64)>,
    pub(crate) events: Vec<String>,
}

impl Change {
    /// A change that starts from the present memory.
    pub fn from(memory: &Memory) -> Self {
        Self { memory: memory.clone(), resets: Vec::new(), events: Vec::new() }
    }

    /// Declares that local value `i` jumps to `value`.
    pub fn reset(&mut self, i: usize, value: f64) {
        self.resets.push((i, value));
    }

    /// Writes a line into the list of events: "pulls in".
    pub fn event(&mut self, what: impl Into<String>) {
        self.events.push(what.into());
    }
}
