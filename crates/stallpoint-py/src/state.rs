//! A circuit's state, to start another run from.

use pyo3::prelude::*;

use crate::errors::bad_argument;
use crate::operating_point::OperatingPoint;
use crate::run::Run;

/// The whole state of a circuit at an instant, to start another run from: `start=state`.
#[pyclass(frozen, module = "stallpoint")]
pub struct State(pub stallpoint::circuit::State);

#[pymethods]
impl State {
    /// When, s.
    #[getter]
    fn time(&self) -> f64 {
        self.0.time
    }

    /// The mode of a part, as the part numbers them; None when there is no such part.
    fn mode(&self, part: &str) -> Option<u32> {
        self.0.mode(part)
    }

    fn __repr__(&self) -> String {
        format!("<State at {} s>", self.0.time)
    }
}

/// A state from what `start=` takes: a run (its end), an operating point, a state.
pub fn start(given: Option<&Bound<'_, PyAny>>) -> PyResult<Option<stallpoint::circuit::State>> {
    let Some(given) = given else { return Ok(None) };
    if let Ok(run) = given.cast::<Run>() {
        return Ok(run.get().state());
    }
    if let Ok(point) = given.cast::<OperatingPoint>() {
        return Ok(Some(point.get().0.as_start()));
    }
    match given.cast::<State>() {
        Ok(state) => Ok(Some(state.get().0.clone())),
        Err(_) => {
            let allowed = "a run, an operating point, or the state at the end of a run";
            Err(bad_argument(given.py(), "start", &given.repr()?.to_string(), allowed))
        }
    }
}
