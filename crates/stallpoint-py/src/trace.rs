//! Values over time.

use std::ops::Deref;
use std::sync::Arc;

use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::circuit::Signal;

use crate::errors::OrRaise;
use crate::long_call::detached;
use crate::python::call;
use crate::signal::{current, voltage};

/// Anything that holds a trace.
pub type Holder = Arc<dyn Deref<Target = stallpoint::circuit::Trace> + Send + Sync>;

/// A trace without a run.
pub struct Alone(pub stallpoint::circuit::Trace);

impl Deref for Alone {
    type Target = stallpoint::circuit::Trace;

    fn deref(&self) -> &Self::Target {
        &self.0
    }
}

/// Values over time: a run, or samples of one.
#[pyclass(frozen, subclass, module = "stallpoint")]
pub struct Trace(pub Holder);

impl Trace {
    fn array<'py>(&self, py: Python<'py>, signal: &Signal) -> PyResult<Bound<'py, PyArray1<f64>>> {
        Ok(detached(py, || self.0.signal(signal))?.into_pyarray(py))
    }
}

#[pymethods]
impl Trace {
    /// Times of the rows, s. At an event two rows share the time: before and after.
    #[getter]
    fn time<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        PyArray1::from_slice(py, self.0.time())
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
    fn voltage<'py>(&self, py: Python<'py>, node: &str, to: Option<&str>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.array(py, &voltage(node, to))
    }

    /// Current into the first terminal of a part, or into the one named, A.
    #[pyo3(signature = (part, terminal=None))]
    fn current<'py>(&self, py: Python<'py>, part: &str, terminal: Option<&str>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.array(py, &current(part, terminal))
    }

    /// A part's own state or probe, in its unit.
    fn state<'py>(&self, py: Python<'py>, part: &str, name: &str) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.array(py, &Signal::State(part.into(), name.into()))
    }

    fn __len__(&self) -> usize {
        self.0.len()
    }

    fn __repr__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "trace_text", (slf,))
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "trace_html", (slf,))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "detached", "reduce_trace", (slf,))
    }
}
