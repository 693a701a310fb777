//! Whether a part keeps the contract.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::circuit::{ConformanceOptions, check_part as check};

use crate::circuit::boxed;
use crate::errors::raise;
use crate::long_call::detached;
use crate::python::named;

/// Tries a part alone against the contract of a part.
#[pyfunction]
#[pyo3(signature = (part, *, samples=60, volts=20.0, speed=300.0, own=50.0, seed=1))]
pub fn check_part<'py>(
    part: &Bound<'py, PyAny>,
    samples: u32,
    volts: f64,
    speed: f64,
    own: f64,
    seed: u64,
) -> PyResult<Bound<'py, PyAny>> {
    let (py, part) = (part.py(), boxed(part)?);
    let options = ConformanceOptions { samples, volts, speed, own, seed };
    let fields = PyDict::new(py);
    match detached(py, || Ok(check(&*part, &options)))? {
        Ok(found) => {
            fields.set_item("modes", found.modes)?;
            fields.set_item("states", found.states)?;
            fields.set_item("is_source", found.is_source)?;
            fields.set_item("linear_content", found.linear_content)?;
            fields.set_item("balanced", found.balanced)?;
            named(py, "records", "Conformance")?.call((), Some(&fields))
        }
        Err(error) => {
            let message = error.to_string();
            fields.set_item("kind", error.kind)?;
            fields.set_item("findings", error.findings)?;
            Err(raise(py, "NotConformingError", &message, &fields))
        }
    }
}
