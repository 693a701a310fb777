//! An operating point.

use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::errors::OrRaise;
use crate::long_call::detached;
use crate::python::call;
use crate::signal::{current, voltage};
use crate::state::State;

/// An equilibrium of a circuit.
#[pyclass(frozen, module = "stallpoint")]
pub struct OperatingPoint(pub stallpoint::circuit::OperatingPoint);

#[pymethods]
impl OperatingPoint {
    /// Whether any shaft is held by its dry friction.
    #[getter]
    fn stuck(&self) -> bool {
        self.0.stuck
    }

    /// Electrical nodes, the reference first.
    #[getter]
    fn nodes(&self) -> Vec<&str> {
        self.0.node_names()
    }

    /// Parts in the order they were added, then the shafts.
    #[getter]
    fn parts(&self) -> Vec<&str> {
        self.0.part_names()
    }

    /// Names of a part's electrical terminals.
    fn terminals(&self, py: Python, part: &str) -> PyResult<Vec<&'static str>> {
        self.0.terminal_names(part).or_raise(py)
    }

    /// Names of a part's states and probes, each with its unit.
    fn states<'py>(&self, py: Python<'py>, part: &str) -> PyResult<Bound<'py, PyDict>> {
        let names = PyDict::new(py);
        for (name, unit) in self.0.state_names(part).or_raise(py)? {
            names.set_item(name, unit)?;
        }
        Ok(names)
    }

    /// Voltage of a node to the reference, or to the node `to`, V.
    #[pyo3(signature = (node, to=None))]
    fn voltage(&self, py: Python, node: &str, to: Option<&str>) -> PyResult<f64> {
        Ok(detached(py, || self.0.signal(&voltage(node, to)))?[0])
    }

    /// Current into the first terminal of a part, or into the one named, A.
    #[pyo3(signature = (part, terminal=None))]
    fn current(&self, py: Python, part: &str, terminal: Option<&str>) -> PyResult<f64> {
        Ok(detached(py, || self.0.signal(&current(part, terminal)))?[0])
    }

    /// A part's own state or probe, in its unit.
    fn state(&self, py: Python, part: &str, name: &str) -> PyResult<f64> {
        self.0.state(part, name).or_raise(py)
    }

    /// The state, to start a transient from.
    fn as_start(&self) -> State {
        State(self.0.as_start())
    }

    fn __repr__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "operating_point_text", (slf,))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "operating_point_html", (slf,))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "detached", "reduce_operating_point", (slf,))
    }
}
