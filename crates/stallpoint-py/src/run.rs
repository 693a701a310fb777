//! A finished transient.

use std::sync::Arc;

use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;

use crate::convert::numbers;
use crate::errors::bad_argument;
use crate::long_call::detached;
use crate::records;
use crate::signal::{Names, signal};
use crate::state::State;
use crate::trace::{Alone, Trace};

/// A transient: values at the accepted steps, dense output between them, events, energy.
#[pyclass(frozen, subclass, extends = Trace, module = "stallpoint")]
pub struct Run(Arc<stallpoint::circuit::Run>);

impl Run {
    /// Hands a run to Python.
    pub fn new(py: Python, run: stallpoint::circuit::Run) -> PyResult<Py<Self>> {
        Py::new(py, Self::initializer(run))
    }

    /// A run on its way to Python.
    pub fn initializer(run: stallpoint::circuit::Run) -> PyClassInitializer<Self> {
        let run = Arc::new(run);
        PyClassInitializer::from(Trace(Arc::new(Shared(run.clone())))).add_subclass(Self(run))
    }

    /// The library's own.
    pub fn inner(&self) -> Arc<stallpoint::circuit::Run> {
        self.0.clone()
    }

    /// The state at the end.
    pub fn state(&self) -> Option<stallpoint::circuit::State> {
        self.0.state_at_end()
    }
}

/// A run that the base class shares.
struct Shared(Arc<stallpoint::circuit::Run>);

impl std::ops::Deref for Shared {
    type Target = stallpoint::circuit::Trace;

    fn deref(&self) -> &Self::Target {
        &self.0
    }
}

#[pymethods]
impl Run {
    /// What happened, in order.
    #[getter]
    fn events<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        records::events(py, &self.0.events)
    }

    /// Where the energy went.
    #[getter]
    fn energy<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        records::energy(py, &self.0.energy)
    }

    /// How it ended: "finished", "stopped at event", "cancelled", "step limit".
    #[getter]
    fn ending(&self) -> &'static str {
        records::ending(self.0.ending)
    }

    /// What it cost.
    #[getter]
    fn counters<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        records::counters(py, &self.0.counters)
    }

    /// Values on a grid of times, from the dense output.
    fn sample(&self, py: Python, times: &Bound<'_, PyAny>) -> PyResult<Trace> {
        let times = numbers(times, "times")?;
        Ok(Trace(Arc::new(Alone(detached(py, || self.0.sample(&times))?))))
    }

    /// Largest and smallest value of one signal over the dense output.
    #[pyo3(signature = (*, voltage=None, current=None, state=None, after=None, before=None))]
    fn extremes<'py>(
        &self,
        py: Python<'py>,
        voltage: Option<Names>,
        current: Option<Names>,
        state: Option<(String, String)>,
        after: Option<f64>,
        before: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let signal = signal(py, voltage, current, state)?;
        let (from, to) = (after.unwrap_or(f64::NEG_INFINITY), before.unwrap_or(f64::INFINITY));
        records::extremes(py, &detached(py, || self.0.extremes_between(&signal, from, to))?)
    }

    /// Running integral of one signal, or of a power of it, one value a row.
    #[pyo3(signature = (*, voltage=None, current=None, state=None, power=1))]
    fn accumulated<'py>(
        &self,
        py: Python<'py>,
        voltage: Option<Names>,
        current: Option<Names>,
        state: Option<(String, String)>,
        power: i32,
    ) -> PyResult<Bound<'py, PyArray1<f64>>> {
        if !(1..=4).contains(&power) {
            return Err(bad_argument(py, "power", &power.to_string(), "1 to 4"));
        }
        let signal = signal(py, voltage, current, state)?;
        Ok(detached(py, || self.0.accumulated(&signal, |value| value.powi(power)))?.into_pyarray(py))
    }

    /// First time after `after` at which one signal crosses `level`; None when it does not.
    #[pyo3(signature = (level, *, voltage=None, current=None, state=None, rising=true, after=0.0))]
    fn crossing(
        &self,
        py: Python,
        level: f64,
        voltage: Option<Names>,
        current: Option<Names>,
        state: Option<(String, String)>,
        rising: bool,
        after: f64,
    ) -> PyResult<Option<f64>> {
        {
            let signal = signal(py, voltage, current, state)?;
            detached(py, || self.0.crossing(&signal, level, rising, after))
        }
    }

    /// The state at the end, to start another run from.
    fn state_at_end(&self) -> Option<State> {
        self.state().map(State)
    }
}
