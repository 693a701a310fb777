//! Values over time: at the accepted steps of a run, on a grid, or at one operating point.

use std::sync::Arc;

use super::assembly::Layout;
use super::circuit::names;
use super::memory::Memory;
use crate::error::{Error, TopologyError};

/// A value of a circuit that can be followed in time.
#[derive(Debug, Clone, PartialEq)]
pub enum Signal {
    /// Voltage of a node to the reference, V.
    Voltage(String),
    /// Voltage of the first node to the second, V.
    Between(String, String),
    /// Current into the first terminal of a part, A.
    Current(String),
    /// Current into a named terminal of a part, A.
    TerminalCurrent(String, String),
    /// A part's own unknown or probe, in its unit.
    State(String, String),
}

/// Rows of unknowns with the discrete states they belong to, and every value that follows from them.
#[derive(Clone)]
pub struct Trace {
    pub(crate) layout: Arc<Layout>,
    pub(crate) times: Vec<f64>,
    /// Unknowns, row after row.
    pub(crate) x: Vec<f64>,
    /// Which of `memories` each row belongs to.
    pub(crate) memory: Vec<u32>,
    pub(crate) memories: Vec<Vec<Memory>>,
}

// In short: a run of thousands of rows would bury the error that carries it.
impl std::fmt::Debug for Trace {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        let span = (self.times.first(), self.times.last());
        f.debug_struct("Trace").field("rows", &self.times.len()).field("span", &span).finish_non_exhaustive()
    }
}

/// A signal found in a layout: how to read it off a row.
#[derive(Clone, Copy)]
pub(crate) enum Reader {
    Reference,
    Unknown(usize),
    Difference(Option<usize>, Option<usize>),
    Flow { part: usize, terminal: usize },
    Probe { part: usize, probe: usize },
}

impl Trace {
    pub(crate) fn new(layout: Arc<Layout>) -> Self {
        Self { layout, times: Vec::new(), x: Vec::new(), memory: Vec::new(), memories: Vec::new() }
    }

    /// Times of the rows, s. At an event two rows share the time: before and after.
    pub fn time(&self) -> &[f64] {
        &self.times
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        self.times.len()
    }

    /// Whether there is no row.
    pub fn is_empty(&self) -> bool {
        self.times.is_empty()
    }

    /// Voltage of a node to the reference, V, one value a row.
    ///
    /// # Errors
    /// No such node.
    pub fn voltage(&self, node: &str) -> Result<Vec<f64>, Error> {
        self.signal(&Signal::Voltage(node.into()))
    }

    /// Voltage of node `from` to node `to`, V, one value a row.
    ///
    /// # Errors
    /// No such node.
    pub fn voltage_between(&self, from: &str, to: &str) -> Result<Vec<f64>, Error> {
        self.signal(&Signal::Between(from.into(), to.into()))
    }

    /// Current into the first terminal of a part, A, one value a row.
    ///
    /// # Errors
    /// No such part.
    pub fn current(&self, part: &str) -> Result<Vec<f64>, Error> {
        self.signal(&Signal::Current(part.into()))
    }

    /// Current into a named terminal of a part, A, one value a row.
    ///
    /// # Errors
    /// No such part or terminal.
    pub fn terminal_current(&self, part: &str, terminal: &str) -> Result<Vec<f64>, Error> {
        self.signal(&Signal::TerminalCurrent(part.into(), terminal.into()))
    }

    /// A part's own unknown or probe, one value a row.
    ///
    /// # Errors
    /// No such part or state.
    pub fn state(&self, part: &str, name: &str) -> Result<Vec<f64>, Error> {
        self.signal(&Signal::State(part.into(), name.into()))
    }

    /// Any signal, one value a row.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn signal(&self, signal: &Signal) -> Result<Vec<f64>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.layout.scratch();
        Ok((0..self.len()).map(|row| self.read(reader, self.times[row], self.row(row), row, &mut scratch)).collect())
    }

    pub(crate) fn row(&self, row: usize) -> &[f64] {
        let n = self.layout.size();
        &self.x[row * n..(row + 1) * n]
    }

    pub(crate) fn row_memories(&self, row: usize) -> &[Memory] {
        &self.memories[self.memory[row] as usize]
    }

    pub(crate) fn push(&mut self, t: f64, x: &[f64]) {
        self.times.push(t);
        self.x.extend_from_slice(x);
        self.memory.push(self.memories.len() as u32 - 1);
    }

    pub(crate) fn reader(&self, signal: &Signal) -> Result<Reader, Error> {
        let layout = &self.layout;
        Ok(match signal {
            Signal::Voltage(node) => layout.node(node)?.map_or(Reader::Reference, Reader::Unknown),
            Signal::Between(from, to) => Reader::Difference(layout.node(from)?, layout.node(to)?),
            Signal::Current(part) => Reader::Flow { part: layout.part(part)?, terminal: 0 },
            Signal::TerminalCurrent(part, terminal) => {
                let which = layout.part(part)?;
                let terminals = layout.instances[which].part.terminals();
                let found = terminals.iter().position(|t| t.name == terminal);
                let found = found.ok_or_else(|| TopologyError::UnknownTerminal {
                    part: part.clone(),
                    kind: layout.instances[which].part.kind().into(),
                    terminal: terminal.clone(),
                    known: names(terminals.iter().map(|t| t.name)),
                })?;
                Reader::Flow { part: which, terminal: found }
            }
            Signal::State(part, state) => {
                let which = layout.part(part)?;
                let instance = &layout.instances[which];
                let terminals = instance.part.terminals().len();
                if let Some(own) = instance.unknowns.iter().position(|u| u.name == state) {
                    Reader::Unknown(instance.index[terminals + own] as usize)
                } else if let Some(probe) = instance.part.probes().iter().position(|p| p.name == state) {
                    Reader::Probe { part: which, probe }
                } else {
                    let own = instance.unknowns.iter().map(|u| u.name);
                    let known = names(own.chain(instance.part.probes().iter().map(|p| p.name)));
                    let (part, state) = (part.clone(), state.clone());
                    return Err(TopologyError::UnknownState { part, state, known }.into());
                }
            }
        })
    }

    /// Reads a signal off unknowns `x` that belong to the discrete states of `row`.
    pub(crate) fn read(
        &self,
        reader: Reader,
        t: f64,
        x: &[f64],
        row: usize,
        scratch: &mut super::local::LocalEquations,
    ) -> f64 {
        match reader {
            Reader::Reference => 0.0,
            Reader::Unknown(index) => x[index],
            Reader::Difference(from, to) => from.map_or(0.0, |i| x[i]) - to.map_or(0.0, |i| x[i]),
            Reader::Flow { part, terminal } => {
                let instance = &self.layout.instances[part];
                instance.flow(terminal, &instance.at(t, x, &self.row_memories(row)[part]), scratch)
            }
            Reader::Probe { part, probe } => {
                let instance = &self.layout.instances[part];
                instance.part.probe(probe, &instance.at(t, x, &self.row_memories(row)[part]))
            }
        }
    }

    /// Sum of `v·i` over all electrical parts and sum of its magnitudes, W, in one row: Kirchhoff's laws make the first
    /// zero (Tellegen's theorem).
    pub fn power_balance(&self, row: usize) -> (f64, f64) {
        let mut scratch = self.layout.scratch();
        let (mut sum, mut magnitude) = (0.0, 0.0);
        for (instance, memory) in self.layout.instances.iter().zip(self.row_memories(row)) {
            let at = instance.at(self.times[row], self.row(row), memory);
            for (k, terminal) in instance.part.terminals().iter().enumerate() {
                if terminal.domain == super::part::Domain::Electrical {
                    let power = at.x(k) * instance.flow(k, &at, &mut scratch);
                    sum += power;
                    magnitude += power.abs();
                }
            }
        }
        (sum, magnitude)
    }
}
