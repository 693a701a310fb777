//! Putting an instrument between two nodes.

use crate::circuit::{Circuit, OperatingPoint, Part};
use crate::error::{Error, TopologyError};

/// The circuit with an instrument between two nodes that it has, and the instrument's name there.
pub(super) fn with_part(
    circuit: &Circuit,
    part: Box<dyn Part>,
    [first, second]: [(&str, &str); 2],
) -> Result<(Circuit, String), Error> {
    for node in [first.1, second.1] {
        known(circuit, node)?;
    }
    let mut measured = circuit.clone();
    let name = free_name(circuit, part.kind());
    measured.add_boxed(&name, part, [first, second])?;
    Ok((measured, name))
}

/// Refuses a node that the circuit does not have: adding a part would make it.
fn known(circuit: &Circuit, node: &str) -> Result<(), Error> {
    let nodes = circuit.node_names();
    if nodes.contains(&node) {
        return Ok(());
    }
    let known = crate::circuit::closest(node, nodes.into_iter());
    Err(TopologyError::UnknownNode { node: node.into(), known }.into())
}

fn free_name(circuit: &Circuit, kind: &str) -> String {
    let taken = circuit.part_names();
    let mut name = kind.to_string();
    while taken.contains(&name.as_str()) {
        name.push('\'');
    }
    name
}

/// Voltage between two nodes of the circuit without any instrument, V.
pub(super) fn without(circuit: &Circuit, plus: &str, minus: &str) -> Result<f64, Error> {
    known(circuit, plus)?;
    known(circuit, minus)?;
    between(&circuit.operating_point()?, plus, minus)
}

pub(super) fn between(op: &OperatingPoint, plus: &str, minus: &str) -> Result<f64, Error> {
    Ok(op.voltage(plus)? - op.voltage(minus)?)
}
