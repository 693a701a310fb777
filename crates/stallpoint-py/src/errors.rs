//! Errors of the library as exceptions of `stallpoint.errors`, one class an error, with its fields as attributes.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::{Error, PartError, TopologyError};

use crate::python::named;
use crate::run::Run;

/// Turns the library's errors into exceptions.
pub trait OrRaise<T> {
    /// The value, or the exception.
    fn or_raise(self, py: Python) -> PyResult<T>;
}

impl<T> OrRaise<T> for Result<T, Error> {
    fn or_raise(self, py: Python) -> PyResult<T> {
        self.map_err(|error| exception(py, error))
    }
}

impl<T> OrRaise<T> for Result<T, PartError> {
    fn or_raise(self, py: Python) -> PyResult<T> {
        self.map_err(|error| exception(py, error.into()))
    }
}

/// An exception of the class `class` of `stallpoint.errors`.
pub fn raise(py: Python, class: &str, message: &str, fields: &Bound<'_, PyDict>) -> PyErr {
    match named(py, "errors", class).and_then(|class| class.call((message,), Some(fields))) {
        Ok(exception) => PyErr::from_value(exception),
        Err(error) => error,
    }
}

/// An argument of the bindings that cannot be used.
pub fn bad_argument(py: Python, argument: &str, value: &str, allowed: &str) -> PyErr {
    let (argument, value, allowed) = (argument.into(), value.into(), allowed.into());
    exception(py, Error::Argument { argument, value, allowed })
}

fn exception(py: Python, error: Error) -> PyErr {
    let fields = PyDict::new(py);
    let message = error.to_string();
    match fill(py, error, &fields) {
        Ok(class) => raise(py, class, &message, &fields),
        Err(error) => error,
    }
}

/// Writes the fields of an error; returns the name of its class.
fn fill(py: Python, error: Error, fields: &Bound<'_, PyDict>) -> PyResult<&'static str> {
    let set = |name: &str, value: String| fields.set_item(name, value);
    Ok(match error {
        Error::Part { part, kind, source } => {
            set("part", part)?;
            set("kind", kind)?;
            fill_part(source, fields)?;
            "PartError"
        }
        Error::NewPart { kind, source } => {
            set("kind", kind)?;
            fill_part(source, fields)?;
            "PartError"
        }
        Error::Parameter(source) => {
            fill_part(source, fields)?;
            "ArgumentError"
        }
        Error::UnknownKind { kind, known } => {
            set("kind", kind)?;
            set("known", known)?;
            "UnknownKindError"
        }
        Error::Topology(source) => fill_topology(source, fields)?,
        Error::Solve { source, partial } => {
            if fill_solve(source, fields)? {
                let partial = partial.map(|run| Run::new(py, *run)).transpose()?;
                fields.set_item("partial", partial)?;
                "SolveError"
            } else {
                "ArgumentError"
            }
        }
        Error::NoEquilibrium { parts } => {
            set("parts", parts)?;
            "NoEquilibriumError"
        }
        Error::Argument { argument, value, allowed } => {
            set("argument", argument)?;
            set("value", value)?;
            set("allowed", allowed)?;
            "ArgumentError"
        }
        Error::ImplausibleReading { measurement, reading, largest, unit, hint } => {
            set("measurement", measurement)?;
            fields.set_item("reading", reading)?;
            fields.set_item("largest", largest)?;
            set("unit", unit.into())?;
            set("hint", hint.trim_start_matches("; ").into())?;
            "ImplausibleReadingError"
        }
        Error::DriveFile { line, column, problem } => {
            fields.set_item("line", line)?;
            fields.set_item("column", column)?;
            set("problem", problem)?;
            "DriveFileError"
        }
        Error::Description { what, problem } => {
            set("what", what)?;
            set("problem", problem)?;
            "DescriptionError"
        }
        Error::Value { key, problem } => {
            set("key", key)?;
            set("problem", problem)?;
            "ValueKeyError"
        }
        Error::File { path, problem, advice } => {
            set("path", path)?;
            set("problem", problem)?;
            set("advice", advice.into())?;
            "FileError"
        }
        // The message names the file; the fields are those of what is wrong in it.
        Error::InFile { source, .. } => fill(py, *source, fields)?,
        Error::Unannounced { part } => {
            set("part", part)?;
            "UnannouncedEntryError"
        }
        Error::Cancelled => "CancelledError",
    })
}

fn fill_part(error: PartError, fields: &Bound<'_, PyDict>) -> PyResult<()> {
    let (argument, problem) = match error {
        PartError::Range { argument, value, allowed } => {
            fields.set_item("value", value)?;
            fields.set_item("allowed", &allowed)?;
            (Some(argument), format!("must be {allowed}"))
        }
        PartError::Quantity { argument, source } => (Some(argument), source.to_string()),
        PartError::Unreadable { argument, problem } => (Some(argument), problem),
        PartError::Description { problem, advice } => {
            fields.set_item("advice", advice)?;
            (None, problem)
        }
    };
    fields.set_item("argument", argument)?;
    fields.set_item("problem", problem)
}

fn fill_topology(error: TopologyError, fields: &Bound<'_, PyDict>) -> PyResult<&'static str> {
    use TopologyError as E;
    let (kind, named): (&str, Vec<(&str, String)>) = match error {
        E::DuplicatePart { part } => ("duplicate_part", vec![("part", part)]),
        E::UnknownTerminal { part, terminal, known, .. } => {
            ("unknown_terminal", vec![("part", part), ("name", terminal), ("known", known)])
        }
        E::Unconnected { part, terminal, .. } => ("unconnected", vec![("part", part), ("terminal", terminal)]),
        E::MixedNode { node, part } => ("mixed_node", vec![("node", node), ("part", part)]),
        E::UnknownPart { part, known } => ("unknown_part", vec![("name", part), ("known", known)]),
        E::UnknownNode { node, known } => ("unknown_node", vec![("name", node), ("known", known)]),
        E::UnknownState { part, state, known } => {
            ("unknown_state", vec![("part", part), ("name", state), ("known", known)])
        }
        E::NoShaft { part } => ("no_shaft", vec![("part", part)]),
        E::NoReference { reference } => ("no_reference", vec![("node", reference)]),
        E::Floating { nodes, parts, .. } => ("floating", vec![("node", nodes), ("part", parts)]),
        E::SourceLoop { parts } => ("source_loop", vec![("part", parts)]),
        E::CurrentCut { nodes, parts } => ("current_cut", vec![("node", nodes), ("part", parts)]),
        E::NoInertia { shaft, parts } => ("no_inertia", vec![("node", shaft), ("part", parts)]),
        E::OtherCircuit { difference } => ("other_circuit", vec![("problem", difference)]),
    };
    fields.set_item("kind", kind)?;
    for (name, value) in named {
        fields.set_item(name, value)?;
    }
    Ok(if kind.starts_with("unknown") { "UnknownNameError" } else { "TopologyError" })
}

/// Writes the fields of a solver's error; false when it is about an argument.
fn fill_solve(error: stallpoint::SolveError, fields: &Bound<'_, PyDict>) -> PyResult<bool> {
    use stallpoint::SolveError as E;
    let (kind, time, culprit) = match error {
        E::EmptySpan { from, to } => {
            fields.set_item("argument", "until")?;
            fields.set_item("value", format!("{to} s"))?;
            fields.set_item("allowed", format!("later than the start at {from} s"))?;
            return Ok(false);
        }
        E::Option { option, value, advice } => {
            fields.set_item("argument", option)?;
            fields.set_item("value", value.to_string())?;
            fields.set_item("allowed", advice)?;
            return Ok(false);
        }
        E::Length { .. } => ("length", None, None),
        E::Pattern(_) => ("pattern", None, None),
        E::StructurallySingular { unknowns, .. } => ("structurally_singular", None, Some(unknowns)),
        E::Singular { t, unknown, .. } => ("singular", Some(t), Some(unknown)),
        E::NotFinite { t, equation } => ("not_finite", Some(t), Some(equation)),
        E::NotConverged { t, unknown, .. } => ("not_converged", Some(t), Some(unknown)),
        E::StepTooSmall { t, unknown, .. } => ("step_too_small", Some(t), Some(unknown)),
        E::TooManyChanges { t, causes, .. } => ("too_many_changes", Some(t), Some(causes)),
    };
    fields.set_item("kind", kind)?;
    fields.set_item("time", time)?;
    fields.set_item("culprit", culprit)?;
    Ok(true)
}
