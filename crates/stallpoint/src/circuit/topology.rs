//! Checks of a circuit before any number is computed.

use super::circuit::{Circuit, names};
use super::part::{Domain, Tie};
use crate::error::{Error, TopologyError};

/// Groups of nodes that grow together.
struct Groups(Vec<usize>);

impl Groups {
    fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    fn root(&mut self, mut node: usize) -> usize {
        while self.0[node] != node {
            self.0[node] = self.0[self.0[node]];
            node = self.0[node];
        }
        node
    }

    /// Joins two groups; false when they were one already.
    fn join(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a.max(b)] = a.min(b);
        a != b
    }
}

/// A tie between two nodes and the part that makes it.
struct Edge<'c> {
    part: &'c str,
    from: usize,
    to: usize,
    tie: Tie,
}

fn edges(circuit: &Circuit) -> Vec<Edge<'_>> {
    let of = |placed: &'_ super::circuit::Placed| {
        placed.part.paths().into_iter().map(|p| (placed.nodes[p.from], placed.nodes[p.to], p.tie)).collect::<Vec<_>>()
    };
    circuit
        .parts
        .iter()
        .flat_map(|placed| of(placed).into_iter().map(|(from, to, tie)| Edge { part: &placed.name, from, to, tie }))
        .collect()
}

/// Refuses circuits that have no unique solution whatever their numbers.
pub(crate) fn check(circuit: &Circuit) -> Result<(), Error> {
    let electrical = |node: usize| circuit.nodes[node].domain == Domain::Electrical;
    if !circuit.parts.iter().any(|placed| placed.nodes.contains(&0)) {
        return Err(TopologyError::NoReference { reference: circuit.reference().into() }.into());
    }
    let edges = edges(circuit);
    source_loop(circuit.nodes.len(), &edges)?;

    let mut groups = Groups::new(circuit.nodes.len());
    for edge in edges.iter().filter(|edge| !matches!(edge.tie, Tie::FixesCurrent | Tie::Capacitive)) {
        groups.join(edge.from, edge.to);
    }
    let ground = groups.root(0);
    if let Some(adrift) = (0..circuit.nodes.len()).find(|&node| electrical(node) && groups.root(node) != ground) {
        let group = groups.root(adrift);
        let members: Vec<usize> = (0..circuit.nodes.len()).filter(|&node| groups.root(node) == group).collect();
        let nodes = names(members.iter().map(|&node| circuit.nodes[node].name.as_str()));
        let touching = circuit.parts.iter().filter(|placed| placed.nodes.iter().any(|node| members.contains(node)));
        let parts = names(touching.map(|placed| placed.name.as_str()));
        let crosses = |edge: &&Edge| members.contains(&edge.from) != members.contains(&edge.to);
        let mut crossing = edges.iter().filter(crosses).peekable();
        let only_sources = crossing.peek().is_some() && crossing.all(|edge| edge.tie == Tie::FixesCurrent);
        return Err(if only_sources {
            TopologyError::CurrentCut { nodes, parts }.into()
        } else {
            TopologyError::Floating { nodes, reference: circuit.reference().into(), parts }.into()
        });
    }
    inertia(circuit)
}

/// Finds a loop of ideal voltage sources and names the parts on it.
fn source_loop(nodes: usize, edges: &[Edge]) -> Result<(), Error> {
    let mut groups = Groups::new(nodes);
    let sources: Vec<&Edge> = edges.iter().filter(|edge| edge.tie == Tie::FixesVoltage).collect();
    for (i, closing) in sources.iter().enumerate() {
        if groups.join(closing.from, closing.to) {
            continue;
        }
        // The loop: drop every earlier source without which the ends stay connected.
        let mut on_loop: Vec<&Edge> = sources[..i].to_vec();
        let mut k = 0;
        while k < on_loop.len() {
            let mut trial = Groups::new(nodes);
            for (j, edge) in on_loop.iter().enumerate() {
                if j != k {
                    trial.join(edge.from, edge.to);
                }
            }
            if trial.root(closing.from) == trial.root(closing.to) {
                on_loop.remove(k);
            } else {
                k += 1;
            }
        }
        on_loop.push(closing);
        return Err(TopologyError::SourceLoop { parts: names(on_loop.iter().map(|edge| edge.part)) }.into());
    }
    Ok(())
}

/// Every shaft needs an inertia, or its speed could jump.
fn inertia(circuit: &Circuit) -> Result<(), Error> {
    for (index, node) in circuit.nodes.iter().enumerate().filter(|(_, node)| node.domain == Domain::Shaft) {
        let on_it = || circuit.parts.iter().filter(move |placed| placed.nodes.contains(&index));
        if on_it().map(|placed| placed.part.inertia()).sum::<f64>() <= 0.0 {
            let parts = names(on_it().map(|placed| placed.name.as_str()));
            return Err(TopologyError::NoInertia { shaft: node.name.clone(), parts }.into());
        }
    }
    Ok(())
}

/// What can be solved but hardly: cutsets of undamped inductors, loops of capacitors and voltage sources.
pub(crate) fn warnings(circuit: &Circuit) -> Vec<String> {
    let edges = edges(circuit);
    let count = circuit.nodes.len();
    let mut found = Vec::new();

    let mut groups = Groups::new(count);
    for edge in edges.iter().filter(|edge| !matches!(edge.tie, Tie::FixesCurrent | Tie::Inductive)) {
        groups.join(edge.from, edge.to);
    }
    let mut seen: Vec<Vec<&str>> = Vec::new();
    for root in (0..count).filter(|&node| circuit.nodes[node].domain == Domain::Electrical) {
        // The reference's own group is cut off by the same parts as the others together.
        if groups.root(root) != root || root == 0 {
            continue;
        }
        let crossing: Vec<&Edge> =
            edges.iter().filter(|e| (groups.root(e.from) == root) != (groups.root(e.to) == root)).collect();
        let mut parts: Vec<&str> = crossing.iter().map(|edge| edge.part).collect();
        parts.sort_unstable();
        if crossing.is_empty() || seen.contains(&parts) {
            continue;
        }
        found.push(format!(
            "only inductors and current sources reach node \"{}\": {}; their currents are not independent: add the damping that every real core or cable has (a resistor beside one of them)",
            circuit.nodes[root].name,
            names(parts.iter().copied())
        ));
        seen.push(parts);
    }

    let mut groups = Groups::new(count);
    for edge in edges.iter().filter(|edge| matches!(edge.tie, Tie::FixesVoltage | Tie::Capacitive)) {
        if !groups.join(edge.from, edge.to) {
            found.push(format!(
                "\"{}\" closes a loop of capacitors and voltage sources: its voltage is not independent; add a small series resistance",
                edge.part
            ));
        }
    }
    found
}
