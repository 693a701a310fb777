//! Python functions called from inside a run.

use std::cell::RefCell;

use pyo3::prelude::*;

thread_local! {
    /// What a function raised. The solver knows no exceptions: it sees NaN, and the long call raises this afterwards.
    static RAISED: RefCell<Option<PyErr>> = const { RefCell::new(None) };
}

/// Whether a function has raised.
pub fn has_raised() -> bool {
    RAISED.with_borrow(Option::is_some)
}

/// Takes what a function raised.
pub fn take_raised() -> Option<PyErr> {
    RAISED.take()
}

/// Calls into Python; `None` when that raises, or has raised before.
pub fn attached<T>(work: impl FnOnce(Python) -> PyResult<T>) -> Option<T> {
    if has_raised() {
        return None;
    }
    match Python::attach(work) {
        Ok(value) => Some(value),
        Err(error) => {
            RAISED.set(Some(error));
            None
        }
    }
}

/// A function of time for a source.
pub fn function_of_time(function: Py<PyAny>) -> impl Fn(f64) -> f64 + Send + Sync + 'static {
    move |t| attached(|py| function.bind(py).call1((t,))?.extract::<f64>()).unwrap_or(f64::NAN)
}
