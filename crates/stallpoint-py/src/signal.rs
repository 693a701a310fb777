//! Which value of a circuit is meant.

use pyo3::prelude::*;
use stallpoint::circuit::Signal;

use crate::errors::bad_argument;

/// One name, or two.
#[derive(FromPyObject)]
pub enum Names {
    /// "stud"
    One(String),
    /// ("stud", "ground")
    Two(String, String),
}

/// Exactly one of `voltage`, `current`, `state`.
pub fn signal(
    py: Python,
    voltage: Option<Names>,
    current: Option<Names>,
    state: Option<(String, String)>,
) -> PyResult<Signal> {
    Ok(match (voltage, current, state) {
        (Some(Names::One(node)), None, None) => Signal::Voltage(node),
        (Some(Names::Two(from, to)), None, None) => Signal::Between(from, to),
        (None, Some(Names::One(part)), None) => Signal::Current(part),
        (None, Some(Names::Two(part, terminal)), None) => Signal::TerminalCurrent(part, terminal),
        (None, None, Some((part, name))) => Signal::State(part, name),
        _ => {
            let allowed = "exactly one of voltage=\"node\" (or two nodes), current=\"part\" (or part and terminal), \
                           state=(\"part\", \"name\")";
            return Err(bad_argument(py, "signal", "not clear", allowed));
        }
    })
}

/// Voltage of a node to the reference or to another node.
pub fn voltage(node: &str, to: Option<&str>) -> Signal {
    match to {
        Some(to) => Signal::Between(node.into(), to.into()),
        None => Signal::Voltage(node.into()),
    }
}

/// Current into the first or a named terminal of a part.
pub fn current(part: &str, terminal: Option<&str>) -> Signal {
    match terminal {
        Some(terminal) => Signal::TerminalCurrent(part.into(), terminal.into()),
        None => Signal::Current(part.into()),
    }
}
