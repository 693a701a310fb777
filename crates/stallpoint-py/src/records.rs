//! Small results as the frozen dataclasses of `stallpoint.records`.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::circuit::{Counters, Ending, EnergyAccount, Event, Extremes};

use crate::python::{call, named};

/// The events of a run.
pub fn events<'py>(py: Python<'py>, events: &[Event]) -> PyResult<Bound<'py, PyAny>> {
    let class = named(py, "records", "Event")?;
    let made: Vec<_> = events.iter().map(|e| class.call1((e.time, &e.part, &e.what))).collect::<PyResult<_>>()?;
    call(py, "records", "EventList", (made,))
}

/// The energy account of a run.
pub fn energy<'py>(py: Python<'py>, account: &EnergyAccount) -> PyResult<Bound<'py, PyAny>> {
    let class = named(py, "records", "PartEnergy")?;
    let parts = PyDict::new(py);
    for p in &account.parts {
        parts.set_item(&p.part, class.call1((&p.part, p.delivered, p.dissipated, p.stored, p.lost_at_jumps))?)?;
    }
    call(py, "records", "EnergyAccount", (parts, account.delivered(), account.residual()))
}

/// Extremes of a signal.
pub fn extremes<'py>(py: Python<'py>, found: &Extremes) -> PyResult<Bound<'py, PyAny>> {
    call(py, "records", "Extremes", (found.max, found.max_at, found.min, found.min_at))
}

/// What a run cost.
pub fn counters<'py>(py: Python<'py>, counters: &Counters) -> PyResult<Bound<'py, PyAny>> {
    let Counters { steps, rejected_by_error, rejected_by_newton, redone_for_events, events, restarts, .. } = *counters;
    let Counters { newton_iterations, evaluations, jacobians, factorisations, repivots, solves, .. } = *counters;
    let row = [
        steps,
        rejected_by_error,
        rejected_by_newton,
        redone_for_events,
        events,
        restarts,
        newton_iterations,
        evaluations,
        jacobians,
        factorisations,
        repivots,
        solves,
    ];
    named(py, "records", "Counters")?.call1(pyo3::types::PyTuple::new(py, row)?)
}

/// How a run ended, in words.
pub fn ending(ending: Ending) -> &'static str {
    match ending {
        Ending::Finished => "finished",
        Ending::StoppedAtEvent => "stopped at event",
        Ending::Cancelled => "cancelled",
        Ending::StepLimit => "step limit",
    }
}
