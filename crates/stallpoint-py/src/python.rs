//! Calls into the Python half of the package.

use pyo3::BoundObject;
use pyo3::prelude::*;
use pyo3::types::PyTuple;

/// Something of a module of the package: `named(py, "records", "Event")`.
pub fn named<'py>(py: Python<'py>, module: &str, name: &str) -> PyResult<Bound<'py, PyAny>> {
    py.import(format!("stallpoint.{module}"))?.getattr(name)
}

/// Calls a function of a module of the package.
pub fn call<'py>(
    py: Python<'py>,
    module: &str,
    name: &str,
    arguments: impl IntoPyObject<'py, Target = PyTuple>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments: Bound<'py, PyTuple> = arguments.into_pyobject(py).map_err(Into::into)?.into_bound();
    named(py, module, name)?.call1(arguments)
}
