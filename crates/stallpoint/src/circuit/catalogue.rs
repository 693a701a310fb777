//! What a trace can be asked for: its nodes, parts, terminals and states by name.

use super::part::Domain;
use super::trace::Trace;
use crate::error::Error;

impl Trace {
    /// Electrical nodes, the reference first.
    pub fn node_names(&self) -> Vec<&str> {
        let electrical = self.layout.nodes.iter().filter(|node| node.domain == Domain::Electrical);
        electrical.map(|node| node.name.as_str()).collect()
    }

    /// Parts in the order they were added, then the shafts.
    pub fn part_names(&self) -> Vec<&str> {
        self.layout.instances.iter().map(|instance| instance.name.as_str()).collect()
    }

    /// What a part is: "resistor".
    ///
    /// # Errors
    /// No such part.
    pub fn part_kind(&self, part: &str) -> Result<&'static str, Error> {
        Ok(self.layout.instances[self.layout.part(part)?].part.kind())
    }

    /// Names of a part's electrical terminals. A current is positive into the first.
    ///
    /// # Errors
    /// No such part.
    pub fn terminal_names(&self, part: &str) -> Result<Vec<&'static str>, Error> {
        let terminals = self.layout.instances[self.layout.part(part)?].part.terminals();
        Ok(terminals.iter().filter(|terminal| terminal.domain == Domain::Electrical).map(|t| t.name).collect())
    }

    /// Names and units of a part's states and probes.
    ///
    /// # Errors
    /// No such part.
    pub fn state_names(&self, part: &str) -> Result<Vec<(&'static str, &'static str)>, Error> {
        let instance = &self.layout.instances[self.layout.part(part)?];
        let own = instance.unknowns.iter().map(|unknown| (unknown.name, unknown.unit));
        Ok(own.chain(instance.part.probes().iter().map(|probe| (probe.name, probe.unit))).collect())
    }
}
