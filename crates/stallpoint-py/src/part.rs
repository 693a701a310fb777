//! Parts of the library, made from a kind and parameters.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::circuit::Part;
use stallpoint::parts::{CurrentSource, VoltageSource, part_from};

use crate::callback::function_of_time;
use crate::convert::description;
use crate::errors::{OrRaise, bad_argument};

/// A part of the library, checked.
#[pyclass(frozen, module = "stallpoint._stallpoint")]
pub struct NativePart(Box<dyn Part>);

#[pymethods]
impl NativePart {
    #[new]
    fn new(kind: &str, parameters: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = parameters.py();
        if let Some(function) = parameters.get_item("function")? {
            return Self::function(py, kind, function);
        }
        Ok(Self(part_from(kind, description(parameters, "")?).or_raise(py)?))
    }

    /// Names of the electrical terminals, then of the shaft's.
    #[getter]
    fn terminals(&self) -> Vec<&'static str> {
        self.0.terminals().iter().map(|terminal| terminal.name).collect()
    }

    /// What it is, in the trade's word.
    #[getter]
    fn kind(&self) -> &'static str {
        self.0.kind()
    }
}

impl NativePart {
    /// A copy to put into a circuit.
    pub fn boxed(&self) -> Box<dyn Part> {
        self.0.clone()
    }

    /// A source that follows a Python function of time.
    fn function(py: Python, kind: &str, function: Bound<'_, PyAny>) -> PyResult<Self> {
        if !function.is_callable() {
            return Err(bad_argument(py, "function", &function.repr()?.to_string(), "a function of the time in s"));
        }
        let function = function_of_time(function.unbind());
        match kind {
            "VoltageSource" => Ok(Self(Box::new(VoltageSource::function(function)))),
            "CurrentSource" => Ok(Self(Box::new(CurrentSource::function(function)))),
            _ => Err(bad_argument(py, "function", kind, "given to a voltage source or a current source")),
        }
    }
}

/// The kinds of parts that the library makes from parameters.
#[pyfunction]
pub fn part_kinds() -> Vec<&'static str> {
    stallpoint::parts::part_kinds().collect()
}
