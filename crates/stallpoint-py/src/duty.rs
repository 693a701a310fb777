//! The duty study.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use stallpoint::drive::Direction;
use stallpoint::quantity::{Fraction, Temperature, Time};
use stallpoint::studies::duty::{self, CycleKind, DutyOptions};

use crate::convert::quantity;
use crate::drive::{Drive, direction};
use crate::errors::OrRaise;
use crate::long_call::long_call;
use crate::python::{call, named};
use crate::study::record;

/// A duty cycle: S1, S2, S3 or any spans that repeat.
#[pyclass(frozen, module = "stallpoint")]
pub struct Cycle(duty::Cycle);

#[pymethods]
impl Cycle {
    /// A cycle of no span yet.
    #[new]
    fn new() -> Self {
        Self(duty::Cycle::new())
    }

    /// S1: held for ever.
    #[staticmethod]
    #[pyo3(signature = (direction="forward"))]
    fn continuous(py: Python, direction: &str) -> PyResult<Self> {
        Ok(Self(duty::Cycle::continuous(self::direction(py, direction)?)))
    }

    /// S2: held for a time from cold, then at rest until cold again.
    #[staticmethod]
    #[pyo3(signature = (on, *, direction="forward"))]
    fn short_time(py: Python, on: &Bound<'_, PyAny>, direction: &str) -> PyResult<Self> {
        let on = quantity::<Time>(on, "on")?;
        Ok(Self(duty::Cycle::short_time(self::direction(py, direction)?, on).or_raise(py)?))
    }

    /// S3: held for a share of the cycle.
    #[staticmethod]
    #[pyo3(signature = (duty_factor, cycle_time=None, *, direction="forward"))]
    fn intermittent(
        py: Python,
        duty_factor: &Bound<'_, PyAny>,
        cycle_time: Option<&Bound<'_, PyAny>>,
        direction: &str,
    ) -> PyResult<Self> {
        let share = quantity::<Fraction>(duty_factor, "duty_factor")?;
        let whole = match cycle_time {
            Some(time) => quantity::<Time>(time, "cycle_time")?,
            None => duty::Cycle::USUAL_TIME,
        };
        Ok(Self(duty::Cycle::intermittent(self::direction(py, direction)?, share, whole).or_raise(py)?))
    }

    /// A copy with a span of forward added.
    fn forward(&self, py: Python, duration: &Bound<'_, PyAny>) -> PyResult<Self> {
        Ok(Self(self.0.clone().forward(quantity::<Time>(duration, "duration")?).or_raise(py)?))
    }

    /// A copy with a span of reverse added.
    fn reverse(&self, py: Python, duration: &Bound<'_, PyAny>) -> PyResult<Self> {
        Ok(Self(self.0.clone().reverse(quantity::<Time>(duration, "duration")?).or_raise(py)?))
    }

    /// A copy with a span of rest added.
    fn rest(&self, py: Python, duration: &Bound<'_, PyAny>) -> PyResult<Self> {
        Ok(Self(self.0.clone().rest(quantity::<Time>(duration, "duration")?).or_raise(py)?))
    }

    /// "S1", "S2" or "repeated".
    #[getter]
    fn kind(&self) -> &'static str {
        match self.0.kind() {
            CycleKind::Continuous => "S1",
            CycleKind::ShortTime => "S2",
            CycleKind::Repeated => "repeated",
        }
    }

    /// Its spans: "forward", "reverse" or "rest", and the duration in s.
    #[getter]
    fn spans(&self) -> Vec<(String, f64)> {
        let name = |call: Option<Direction>| call.map_or_else(|| "rest".into(), |call| call.to_string());
        self.0.spans().iter().map(|span| (name(span.call), span.duration)).collect()
    }

    /// How long it takes, s; None when it does not repeat.
    #[getter]
    fn time(&self) -> Option<f64> {
        self.0.time()
    }

    /// Cyclic duration factor; None for S2.
    #[getter]
    fn duty_factor(&self) -> Option<f64> {
        self.0.duty_factor()
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other.cast::<Self>().is_ok_and(|other| self.0 == other.get().0)
    }

    fn __repr__(&self) -> String {
        format!("<Cycle: {}>", self.0)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        (named(py, "detached", "cycle")?, (self.kind(), self.spans())).into_pyobject(py)
    }
}

/// The result of a duty study.
#[pyclass(frozen, module = "stallpoint")]
pub struct DutyStudy(Arc<duty::DutyStudy>);

/// How warm each part gets in a duty cycle, how long each may be on and how long it must rest.
#[pyfunction]
#[pyo3(signature = (drive, cycle, *, follow=None, ambient_c=None, rtol=1e-4, progress=None))]
pub fn duty_study(
    py: Python,
    drive: &Drive,
    cycle: &Cycle,
    follow: Option<&Bound<'_, PyAny>>,
    ambient_c: Option<&Bound<'_, PyAny>>,
    rtol: f64,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<DutyStudy> {
    let mut options = DutyOptions { rtol, ..DutyOptions::default() };
    if let Some(follow) = follow {
        options.follow = quantity::<Time>(follow, "follow")?.si();
    }
    options.ambient_c = ambient_c.map(|air| quantity::<Temperature>(air, "ambient_c")).transpose()?;
    let (drive, cycle) = (drive.0.clone(), cycle.0.clone());
    let study = long_call(py, progress, |watcher| duty::duty_study_with(&drive, &cycle, &options, watcher))?;
    Ok(DutyStudy(Arc::new(study)))
}

#[pymethods]
impl DutyStudy {
    /// The drive studied.
    #[getter]
    fn drive(&self) -> Drive {
        Drive::of(self.0.drive.clone())
    }

    /// The cycle.
    #[getter]
    fn cycle(&self) -> Cycle {
        Cycle(self.0.cycle.clone())
    }

    /// Every requirement with its verdict.
    #[getter]
    fn checks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let checks = self.0.checks.iter().map(|check| record(py, check)).collect::<PyResult<Vec<_>>>()?;
        call(py, "records", "CheckList", (checks,))
    }

    /// How each part fares.
    #[getter]
    fn parts<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let class = named(py, "duties", "PartDuty")?;
        let parts = self.0.parts.iter().map(|part| {
            let fields = PyDict::new(py);
            fields.set_item("part", &part.part)?;
            fields.set_item("unit", part.unit)?;
            fields.set_item("cold", part.cold)?;
            fields.set_item("lowest", part.lowest)?;
            fields.set_item("highest", part.highest)?;
            fields.set_item("highest_at", part.highest_at)?;
            fields.set_item("case_highest", part.case_highest)?;
            fields.set_item("if_held", part.if_held)?;
            fields.set_item("limit", part.limit)?;
            fields.set_item("basis", &part.basis)?;
            fields.set_item("rms_current", part.rms_current)?;
            fields.set_item("longest_on_from_cold", part.longest_on_from_cold)?;
            let longest_on = PyDict::new(py);
            for (direction, run) in ["forward", "reverse"].into_iter().zip(part.longest_on) {
                if let Some(run) = run {
                    longest_on.set_item(direction, run)?;
                }
            }
            fields.set_item("longest_on", longest_on)?;
            fields.set_item("shortest_rest", part.shortest_rest)?;
            fields.set_item("largest_duty_factor", part.largest_duty_factor)?;
            fields.set_item("curve", part.curve.clone())?;
            class.call((), Some(&fields))
        });
        call(py, "duties", "PartDutyList", (parts.collect::<PyResult<Vec<_>>>()?,))
    }

    /// Parts of which too little is known: the part, and what is missing.
    #[getter]
    fn not_known(&self) -> Vec<(String, String)> {
        self.0.not_known.iter().map(|unknown| (unknown.part.clone(), unknown.missing.clone())).collect()
    }

    /// Loads span by span.
    #[getter]
    fn spans<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let class = named(py, "duties", "SpanDuty")?;
        let rows = self.0.spans.iter().map(|span| {
            let what = span.call.map_or_else(|| "rest".into(), |call| call.to_string());
            class.call1((what, span.duration, span.motor_rms, span.motor_settled, span.stalled))
        });
        rows.collect()
    }

    /// What a cycle takes out of the battery.
    #[getter]
    fn battery<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let battery = &self.0.battery;
        call(py, "duties", "BatteryDuty", (battery.charge, battery.share, battery.lasts))
    }

    /// "Continuous or intermittent contactor?" in numbers.
    #[getter]
    fn contactor<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let answer = &self.0.contactor;
        let fields = PyDict::new(py);
        fields.set_item("longest_on", answer.longest())?;
        fields.set_item("duty_factor", answer.duty_factor)?;
        fields.set_item("operations_per_hour", answer.operations_per_hour)?;
        fields.set_item("contact", answer.contact)?;
        fields.set_item("rms_current", answer.rms_current)?;
        fields.set_item("settled_current", answer.settled_current)?;
        fields.set_item("words", answer.words())?;
        named(py, "duties", "ContactorAnswer")?.call((), Some(&fields))
    }

    /// The picture: temperatures through the steady cycle.
    #[pyo3(signature = (ax=None))]
    fn plot<'py>(slf: &Bound<'py, Self>, ax: Option<Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "duties", "plot", (slf, ax))
    }

    /// The report as text.
    fn to_text(&self) -> String {
        self.0.to_text()
    }

    /// The report as Markdown.
    fn to_markdown(&self) -> String {
        self.0.to_markdown()
    }

    /// The report as one HTML page.
    fn to_html(&self) -> String {
        self.0.to_html()
    }

    fn __repr__(&self) -> String {
        format!("<DutyStudy of \"{}\", {}: {}>", self.0.drive.name, self.0.cycle, self.0.summary())
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "study_html", (slf,))
    }
}
