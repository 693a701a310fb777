//! A circuit's whole state at an instant, to start another run from.

use super::assembly::Assembly;
use super::circuit::Circuit;
use super::memory::Memory;
use super::trace::{Reader, Signal, Trace};
use crate::error::{Error, TopologyError};

/// Unknowns and discrete states at an instant. Taken from a run or an operating point, it starts another run of the same
/// circuit, or of one with other numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// When, s.
    pub time: f64,
    names: Vec<String>,
    x: Vec<f64>,
    memories: Vec<Memory>,
}

impl State {
    /// The state in a row of a trace.
    pub(crate) fn of(trace: &Trace, row: usize) -> Self {
        Self {
            time: trace.times[row],
            names: trace.layout.instances.iter().map(|instance| instance.name.clone()).collect(),
            x: trace.row(row).to_vec(),
            memories: trace.row_memories(row).to_vec(),
        }
    }

    /// The mode of a part, as the part numbers them; none when there is no such part.
    pub fn mode(&self, part: &str) -> Option<u32> {
        let which = self.names.iter().position(|name| name == part)?;
        Some(self.memories[which].mode)
    }

    /// Changes a part's own unknown.
    pub(crate) fn set(&mut self, circuit: &Circuit, part: &str, unknown: &str, value: f64) -> Result<(), Error> {
        let assembly = circuit.assemble()?;
        if let Reader::Unknown(index) =
            Trace::new(assembly.layout.clone()).reader(&Signal::State(part.into(), unknown.into()))?
            && let Some(own) = self.x.get_mut(index)
        {
            *own = value;
        }
        Ok(())
    }

    /// Puts this state into an assembly with the same parts; returns the unknowns.
    pub(crate) fn place(&self, assembly: &mut Assembly) -> Result<Vec<f64>, Error> {
        let instances = &assembly.layout.instances;
        let differing = self.names.iter().zip(instances).find(|(name, instance)| **name != instance.name);
        let difference = match differing {
            Some((name, instance)) => format!("it has part \"{name}\" where this one has \"{}\"", instance.name),
            None if self.x.len() != assembly.layout.size() || self.names.len() != instances.len() => format!(
                "it has {} parts and {} unknowns, this one {} and {}",
                self.names.len(),
                self.x.len(),
                instances.len(),
                assembly.layout.size()
            ),
            None => {
                assembly.set_memories(self.memories.clone());
                return Ok(self.x.clone());
            }
        };
        Err(TopologyError::OtherCircuit { difference }.into())
    }
}
