//! What resistance a circuit shows between its nodes, for small changes about an operating point.

use stallpoint_solve::sparse::Lu;
use stallpoint_solve::{Evaluation, SolveError};

use super::assembly::Layout;
use super::local::{Stamp, Target};
use super::memory::Memory;
use super::operating_point::OperatingPoint;
use super::part::Pace;
use crate::error::Error;

/// Resistances between some nodes of a circuit.
#[derive(Debug, Clone)]
pub(crate) struct Ports {
    /// Volts at node `row` for an ampere into node `column`, row by row.
    transfer: Vec<f64>,
    count: usize,
}

impl Ports {
    /// Resistance between the nodes of these indices, ohm.
    pub(crate) fn between(&self, a: usize, b: usize) -> f64 {
        let z = |row: usize, column: usize| self.transfer[row * self.count + column];
        (z(a, a) + z(b, b) - z(a, b) - z(b, a)).max(0.0)
    }
}

impl OperatingPoint {
    /// The resistance that the circuit shows between two nodes for small changes, ohm: with no instrument there its voltage is
    /// `voltage(plus) - voltage(minus)`; an instrument of resistance `R` reads `R / (R + source_resistance)` of that.
    ///
    /// `Z = e^T (∂f/∂x)^-1 e` with contacts as they are and slow states (charge, temperatures) held; a turning motor's
    /// back-EMF counts.
    ///
    /// # Errors
    /// No such node; a circuit without a unique solution.
    ///
    /// # Example
    /// ```
    /// use stallpoint::circuit::Circuit;
    /// use stallpoint::parts::{Resistor, VoltageSource};
    ///
    /// let mut circuit = Circuit::new();
    /// circuit.add("source", VoltageSource::constant("12 V")?, [("plus", "p"), ("minus", "ground")])?;
    /// circuit.add("upper", Resistor::new("3 ohm")?, [("a", "p"), ("b", "middle")])?;
    /// circuit.add("lower", Resistor::new("6 ohm")?, [("a", "middle"), ("b", "ground")])?;
    /// let z = circuit.operating_point()?.source_resistance("middle", "ground")?;
    /// assert!((z - 2.0).abs() < 1e-12);
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn source_resistance(&self, plus: &str, minus: &str) -> Result<f64, Error> {
        Ok(self.ports(&[Some(plus), Some(minus)])?.between(0, 1))
    }

    /// Resistances between these nodes; a node that is none counts as the reference.
    pub(crate) fn ports(&self, nodes: &[Option<&str>]) -> Result<Ports, Error> {
        let layout = &self.layout;
        let index = |node: &Option<&str>| node.map_or(Ok(None), |node| layout.node(node));
        let indices = nodes.iter().map(index).collect::<Result<Vec<_>, _>>()?;
        let singular = || SolveError::Singular {
            t: 0.0,
            unknown: "the resistance between two nodes".into(),
            equation: "the equations about this operating point".into(),
        };
        let mut lu = Lu::new(&layout.pattern).map_err(|_| singular())?;
        lu.factor(&jacobian(layout, self.row(0), self.row_memories(0))).map_err(|_| singular())?;
        let mut transfer = vec![0.0; nodes.len() * nodes.len()];
        let mut x = vec![0.0; layout.size()];
        for (column, into) in indices.iter().enumerate() {
            let Some(into) = *into else { continue };
            x.fill(0.0);
            x[into] = 1.0;
            lu.solve(&mut x);
            for (row, at) in indices.iter().enumerate() {
                transfer[row * nodes.len() + column] = at.map_or(0.0, |at| x[at]);
            }
        }
        Ok(Ports { transfer, count: nodes.len() })
    }
}

/// `∂f/∂x` with the rows of slow states replaced by their being held.
fn jacobian(layout: &Layout, x: &[f64], memories: &[Memory]) -> Vec<f64> {
    let pattern = &layout.pattern;
    let mut out = Evaluation::new(layout.size(), pattern.nonzeros());
    for (instance, memory) in layout.instances.iter().zip(memories) {
        let mut missed = false;
        let target =
            Target::Global { out: &mut out, index: &instance.index, slots: &instance.slots, missed: &mut missed };
        let size = instance.index.len();
        instance.part.evaluate(&instance.at(0.0, x, memory), &mut Stamp { target, jacobian: true, size });
    }
    let nodes = layout.nodes.len() - 1;
    let held = |row: usize| {
        row >= nodes && {
            let (instance, own) = layout.owners[row - nodes];
            layout.instances[instance].unknowns[own].pace != Pace::Fast
        }
    };
    for (row, column, slot) in pattern.entries() {
        if held(row) {
            out.df[slot] = f64::from(u8::from(row == column));
        }
    }
    out.df
}
