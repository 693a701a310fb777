//! Putting parts together.

use super::assembly::Assembly;
use super::operating_point::{OperatingOptions, OperatingPoint, operating_point};
use super::part::{Domain, Part};
use super::run::Run;
use super::topology;
use super::transient::{TransientOptions, transient};
use crate::error::{Error, TopologyError};

/// A part in its place.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub(crate) name: String,
    pub(crate) part: Box<dyn Part>,
    /// Node of each terminal, by index into the circuit's nodes.
    pub(crate) nodes: Vec<usize>,
}

/// A node.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Node {
    pub(crate) name: String,
    pub(crate) domain: Domain,
}

/// A circuit: parts by name between nodes by name.
///
/// The equations are Kirchhoff's current law at every node but the reference, the balance of torques on every shaft, and
/// the parts' own equations: modified nodal analysis (Ho, Ruehli and Brennan, IEEE Trans. Circuits Syst. 22 (1975) 504)
/// in charge and flux.
///
/// # Example
/// ```
/// use stallpoint::circuit::Circuit;
/// use stallpoint::parts::{Resistor, VoltageSource};
///
/// let mut circuit = Circuit::new();
/// circuit.add("source", VoltageSource::constant("12.6 V")?, [("plus", "p"), ("minus", "ground")])?;
/// circuit.add("upper", Resistor::new("1 ohm")?, [("a", "p"), ("b", "middle")])?;
/// circuit.add("lower", Resistor::new("2 ohm")?, [("a", "middle"), ("b", "ground")])?;
/// let op = circuit.operating_point()?;
/// assert!((op.voltage("middle")? - 8.4).abs() < 1e-9);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Circuit {
    pub(crate) nodes: Vec<Node>,
    pub(crate) parts: Vec<Placed>,
}

impl Default for Circuit {
    fn default() -> Self {
        Self::new()
    }
}

impl Circuit {
    /// An empty circuit whose reference node is `ground`.
    pub fn new() -> Self {
        Self::with_reference("ground")
    }

    /// An empty circuit with a reference node of another name.
    pub fn with_reference(reference: &str) -> Self {
        Self { nodes: vec![Node { name: reference.into(), domain: Domain::Electrical }], parts: Vec::new() }
    }

    /// Name of the reference node.
    pub fn reference(&self) -> &str {
        &self.nodes[0].name
    }

    /// Names of all nodes, the reference first.
    pub fn node_names(&self) -> Vec<&str> {
        self.nodes.iter().map(|node| node.name.as_str()).collect()
    }

    /// Names of its electrical nodes, the reference first.
    pub(crate) fn electrical_nodes(&self) -> Vec<&str> {
        self.nodes.iter().filter(|node| node.domain == Domain::Electrical).map(|node| node.name.as_str()).collect()
    }

    /// Names of all parts in the order they were added.
    pub fn part_names(&self) -> Vec<&str> {
        self.parts.iter().map(|placed| placed.name.as_str()).collect()
    }

    /// Adds a part: `connections` gives the node of each terminal. Nodes come into being by being named. A shaft
    /// terminal left out gets a shaft of its own, named `<part>.<terminal>`.
    ///
    /// # Errors
    /// The part's own [`check`](Part::check); a name taken; a terminal unknown or left out; a node that would join an
    /// electrical terminal and a shaft. The circuit is then as before.
    pub fn add<'n>(
        &mut self,
        name: &str,
        part: impl Part + 'static,
        connections: impl IntoIterator<Item = (&'n str, &'n str)>,
    ) -> Result<(), Error> {
        self.add_boxed(name, Box::new(part), connections)
    }

    /// As [`add`](Circuit::add), for a part already in a box.
    ///
    /// # Errors
    /// As for [`add`](Circuit::add).
    pub fn add_boxed<'n>(
        &mut self,
        name: &str,
        part: Box<dyn Part>,
        connections: impl IntoIterator<Item = (&'n str, &'n str)>,
    ) -> Result<(), Error> {
        let kind = part.kind().to_string();
        part.check().map_err(|source| Error::part(name, &kind, source))?;
        if self.parts.iter().any(|placed| placed.name == name) {
            return Err(TopologyError::DuplicatePart { part: name.into() }.into());
        }
        let terminals = part.terminals();
        let mut given: Vec<Option<String>> = vec![None; terminals.len()];
        for (terminal, node) in connections {
            let Some(i) = terminals.iter().position(|t| t.name == terminal) else {
                let known = names(terminals.iter().map(|t| t.name));
                let (part, terminal) = (name.into(), terminal.into());
                return Err(TopologyError::UnknownTerminal { part, kind, terminal, known }.into());
            };
            given[i] = Some(node.into());
        }
        let mut wanted = Vec::new();
        for (terminal, node) in terminals.iter().zip(given) {
            let node = match (node, terminal.domain) {
                (Some(node), _) => node,
                (None, Domain::Shaft) => format!("{name}.{}", terminal.name),
                (None, Domain::Electrical) => {
                    let (part, terminal) = (name.into(), terminal.name.into());
                    return Err(TopologyError::Unconnected { part, kind, terminal }.into());
                }
            };
            let known = self.nodes.iter().find(|known| known.name == node);
            if known.is_some_and(|known| known.domain != terminal.domain) {
                return Err(TopologyError::MixedNode { node, part: name.into() }.into());
            }
            wanted.push((node, terminal.domain));
        }
        let nodes = wanted.into_iter().map(|(node, domain)| self.node(node, domain)).collect();
        self.parts.push(Placed { name: name.into(), part, nodes });
        Ok(())
    }

    /// Puts a load or another part with one free shaft terminal on the shaft of the part `on`, under the name
    /// `<on>.<kind>` (with a number when taken); returns that name.
    ///
    /// # Errors
    /// `on` is unknown or has no shaft; otherwise as for [`add`](Circuit::add).
    pub fn attach(&mut self, on: &str, part: impl Part + 'static) -> Result<String, Error> {
        self.attach_boxed(on, Box::new(part))
    }

    /// As [`attach`](Circuit::attach), for a part already in a box.
    ///
    /// # Errors
    /// As for [`attach`](Circuit::attach).
    pub fn attach_boxed(&mut self, on: &str, part: Box<dyn Part>) -> Result<String, Error> {
        let placed = self.placed(on)?;
        let shaft = |part: &dyn Part| part.terminals().iter().position(|t| t.domain == Domain::Shaft);
        let here = shaft(&*placed.part).ok_or_else(|| TopologyError::NoShaft { part: on.into() })?;
        let node = self.nodes[placed.nodes[here]].name.clone();
        let kind = part.kind().replace(' ', "_");
        let there = shaft(&*part).ok_or_else(|| TopologyError::NoShaft { part: kind.clone() })?;
        let terminal = part.terminals()[there].name;
        let taken = |name: &str| self.parts.iter().any(|placed| placed.name == name);
        let mut name = format!("{on}.{kind}");
        for number in 2.. {
            if !taken(&name) {
                break;
            }
            name = format!("{on}.{kind}_{number}");
        }
        self.add_boxed(&name, part, [(terminal, node.as_str())])?;
        Ok(name)
    }

    /// Puts another part in the place of one with the same terminals.
    ///
    /// # Errors
    /// No such part; the new part's own [`check`](Part::check); terminals that differ.
    pub fn replace(&mut self, name: &str, part: Box<dyn Part>) -> Result<(), Error> {
        part.check().map_err(|source| Error::part(name, part.kind(), source))?;
        let known = self.placed(name)?.part.terminals();
        if let Some(missing) = known.iter().find(|terminal| !part.terminals().contains(terminal)) {
            return Err(TopologyError::UnknownTerminal {
                part: name.into(),
                kind: part.kind().into(),
                terminal: missing.name.into(),
                known: names(part.terminals().iter().map(|t| t.name)),
            }
            .into());
        }
        if let Some(placed) = self.parts.iter_mut().find(|placed| placed.name == name) {
            placed.part = part;
        }
        Ok(())
    }

    /// Warnings about the topology that do not forbid a solution: cutsets of inductors, loops of capacitors.
    ///
    /// # Errors
    /// What makes a solution impossible, as [`operating_point`](Circuit::operating_point) would report it.
    pub fn warnings(&self) -> Result<Vec<String>, Error> {
        topology::check(self)?;
        Ok(topology::warnings(self))
    }

    /// The operating point from each part's rest mode; see [`OperatingOptions`].
    ///
    /// # Errors
    /// A wrong topology; no equilibrium (the parts that keep switching are named); no unique solution.
    pub fn operating_point(&self) -> Result<OperatingPoint, Error> {
        self.operating_point_with(&OperatingOptions::default())
    }

    /// The operating point with options.
    ///
    /// # Errors
    /// As for [`operating_point`](Circuit::operating_point).
    pub fn operating_point_with(&self, options: &OperatingOptions) -> Result<OperatingPoint, Error> {
        operating_point(self, options)
    }

    /// A transient from the parts' initial states to `until` seconds.
    ///
    /// # Errors
    /// A wrong topology, an empty time span, or equations that cannot be solved on: the error names the time and the
    /// part or node to blame.
    pub fn transient(&self, until: f64, options: &TransientOptions) -> Result<Run, Error> {
        transient(self, until, options)
    }

    /// The equations, checked and ready to solve.
    pub(crate) fn assemble(&self) -> Result<Assembly, Error> {
        topology::check(self)?;
        Assembly::new(self)
    }

    pub(crate) fn placed(&self, name: &str) -> Result<&Placed, Error> {
        self.parts.iter().find(|placed| placed.name == name).ok_or_else(|| {
            let known = closest(name, self.part_names().into_iter());
            TopologyError::UnknownPart { part: name.into(), known }.into()
        })
    }

    fn node(&mut self, name: String, domain: Domain) -> usize {
        self.nodes.iter().position(|node| node.name == name).unwrap_or_else(|| {
            self.nodes.push(Node { name, domain });
            self.nodes.len() - 1
        })
    }
}

/// Names for a message: all when few, else those most like `wanted`.
pub(crate) fn closest<'n>(wanted: &str, known: impl Iterator<Item = &'n str>) -> String {
    let mut all: Vec<&str> = known.collect();
    if all.len() > 8 {
        let shared = |name: &str| {
            let words: Vec<&str> = wanted.split(['_', '.', ' ']).collect();
            name.split(['_', '.', ' ']).filter(|word| words.contains(word)).count()
        };
        all.sort_by_key(|name| std::cmp::Reverse(shared(name)));
        all.truncate(8);
        return format!("the most similar are {}", names(all.into_iter()));
    }
    format!("known are {}", names(all.into_iter()))
}

/// Quoted names with commas.
pub(crate) fn names<'n>(names: impl Iterator<Item = &'n str>) -> String {
    names.map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}
