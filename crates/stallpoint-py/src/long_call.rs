//! The one helper for every call that may take long.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::Error;
use stallpoint::circuit::{Flow, Progress, Watcher};

use crate::errors::{OrRaise, raise};
use crate::{callback, python};

/// How often signals are looked for and progress is told.
const INTERVAL: Duration = Duration::from_millis(50);

/// Runs `work` without the GIL. Ctrl-C and exceptions of the progress function end it and are raised; a progress
/// function that returns `False` ends it and keeps what was computed. A panic is raised as `InternalError`.
pub fn long_call<T: Send>(
    py: Python,
    progress: Option<&Bound<'_, PyAny>>,
    work: impl FnOnce(Watcher) -> Result<T, Error> + Send,
) -> PyResult<T> {
    callback::take_raised(); // what an earlier call left behind is not this one's
    let reporter = match progress {
        Some(progress) => Some(python::call(py, "_progress", "reporter", (progress,))?).filter(|r| !r.is_none()),
        None => None,
    };
    let mut watch =
        Watch { last: Instant::now(), first: None, reporter: reporter.clone().map(Bound::unbind), raised: None };
    let done = py.detach(|| catch_unwind(AssertUnwindSafe(|| work(&mut |progress| watch.look(progress)))));
    if let Some(reporter) = reporter {
        reporter.call_method1("close", (matches!(done, Ok(Ok(_))),))?;
    }
    let raised = callback::take_raised();
    if let Some(error) = watch.raised.take().or(raised) {
        return Err(error);
    }
    match done {
        Ok(done) => done.or_raise(py),
        Err(panic) => {
            let text = panic.downcast_ref::<String>().cloned();
            let text = text.or_else(|| panic.downcast_ref::<&str>().map(|text| text.to_string()));
            let text = text.unwrap_or_else(|| "a panic without a message".into());
            let message = format!("a defect in stallpoint, please report it: {text}");
            Err(raise(py, "InternalError", &message, &PyDict::new(py)))
        }
    }
}

/// As [`long_call`], for work without a watcher.
pub fn detached<T: Send>(py: Python, work: impl FnOnce() -> Result<T, Error> + Send) -> PyResult<T> {
    long_call(py, None, |_| work())
}

struct Watch {
    last: Instant,
    /// Simulated time when it first looked.
    first: Option<f64>,
    reporter: Option<Py<PyAny>>,
    raised: Option<PyErr>,
}

impl Watch {
    fn look(&mut self, progress: Progress) -> Flow {
        let first = *self.first.get_or_insert(progress.time);
        if callback::has_raised() {
            return Flow::Stop;
        }
        if self.last.elapsed() < INTERVAL {
            return Flow::Continue;
        }
        self.last = Instant::now();
        let fraction = ((progress.time - first) / (progress.until - first)).clamp(0.0, 1.0);
        let goes_on = Python::attach(|py| -> PyResult<bool> {
            py.check_signals()?;
            let Some(reporter) = &self.reporter else { return Ok(true) };
            let answer = reporter.bind(py).call1((fraction,))?;
            Ok(answer.is_none() || answer.is_truthy()?)
        });
        match goes_on {
            Ok(true) => Flow::Continue,
            Ok(false) => Flow::Stop,
            Err(error) => {
                self.raised = Some(error);
                Flow::Stop
            }
        }
    }
}

/// For the package's own tests: panics inside a long call.
#[pyfunction]
pub fn _panic(py: Python, message: String) -> PyResult<()> {
    detached(py, || std::panic::resume_unwind(Box::new(message)))
}
