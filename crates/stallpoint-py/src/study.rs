//! The surge study.

use std::sync::Arc;

use numpy::IntoPyArray;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::drive::Direction;
use stallpoint::quantity::Time;
use stallpoint::report::Check;
use stallpoint::studies::surge::{self, Curve, SurgeOptions};

use crate::convert::quantity;
use crate::drive::{Drive, Start, direction};
use crate::errors::bad_argument;
use crate::long_call::long_call;
use crate::python::{call, named};
use crate::run::Run;

/// The result of a surge study.
#[pyclass(frozen, module = "stallpoint")]
pub struct SurgeStudy(Arc<surge::SurgeStudy>);

/// Start, release, stalled release and reversal in both directions, held against every rating.
#[pyfunction]
#[pyo3(signature = (drive, *, hold=None, joint=None, rtol=1e-4, progress=None))]
pub fn surge_study(
    py: Python,
    drive: &Drive,
    hold: Option<&Bound<'_, PyAny>>,
    joint: Option<String>,
    rtol: f64,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<SurgeStudy> {
    let mut options = SurgeOptions::default();
    if let Some(hold) = hold {
        options.hold = quantity::<Time>(hold, "hold")?.si();
    }
    if let Some(joint) = joint {
        options.joint = joint;
    }
    options.transient.rtol = rtol;
    let drive = drive.0.clone();
    let study = long_call(py, progress, |watcher| surge::surge_study_with(&drive, &options, watcher))?;
    Ok(SurgeStudy(Arc::new(study)))
}

/// A check as a record.
pub fn record<'py>(py: Python<'py>, check: &Check) -> PyResult<Bound<'py, PyAny>> {
    let fields = PyDict::new(py);
    fields.set_item("requirement", &check.requirement)?;
    fields.set_item("value", check.value)?;
    fields.set_item("limit", check.limit)?;
    fields.set_item("unit", check.unit)?;
    fields.set_item("margin", check.margin)?;
    fields.set_item("verdict", check.verdict.to_string())?;
    fields.set_item("basis", &check.basis)?;
    fields.set_item("when", &check.when)?;
    named(py, "records", "Check")?.call((), Some(&fields))
}

fn curve<'py>(py: Python<'py>, curve: &Curve) -> PyResult<Bound<'py, PyAny>> {
    let (current, time) = (curve.current.clone().into_pyarray(py), curve.time.clone().into_pyarray(py));
    call(py, "records", "Curve", (current, time))
}

#[pymethods]
impl SurgeStudy {
    /// The drive studied.
    #[getter]
    fn drive(&self) -> Drive {
        Drive::of(self.0.drive.clone())
    }

    /// Every requirement with its verdict.
    #[getter]
    fn checks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let checks = self.0.checks.iter().map(|check| record(py, check)).collect::<PyResult<Vec<_>>>()?;
        call(py, "records", "CheckList", (checks,))
    }

    /// The start in a direction, with its surge.
    #[pyo3(signature = (direction="forward"))]
    fn start(&self, py: Python, direction: &str) -> PyResult<Py<Start>> {
        let runs = self.runs(self::direction(py, direction)?);
        Start::new(py, runs.start.clone())
    }

    /// One of the runs: "start", "release", "stalled start", "stalled release", "reversal".
    #[pyo3(signature = (name, direction="forward"))]
    fn run(&self, py: Python, name: &str, direction: &str) -> PyResult<Py<Run>> {
        let runs = self.runs(self::direction(py, direction)?);
        let named = runs.named();
        match named.iter().find(|(known, _)| *known == name) {
            Some((_, run)) => Run::new(py, (*run).clone()),
            None => {
                let known = named.map(|(name, _)| format!("\"{name}\"")).join(", ");
                Err(bad_argument(py, "name", &format!("\"{name}\""), &format!("one of {known}")))
            }
        }
    }

    /// Largest current of each part in each run.
    #[getter]
    fn peaks<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let class = named(py, "records", "Peak")?;
        let rows = self.0.peaks.iter().flat_map(|part| part.peaks.iter().map(move |peak| (part.part, peak)));
        rows.map(|(part, &(direction, run, value, time))| class.call1((part, direction.to_string(), run, value, time)))
            .collect()
    }

    /// Where the volts go, for each state of the drive.
    #[getter]
    fn volts<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let (state, drop) = (named(py, "records", "VoltsLost")?, named(py, "records", "Drop")?);
        let lost = self.0.volts.iter().map(|lost| {
            let drops = lost.drops.iter().map(|d| drop.call1((&d.element, &d.from, &d.to, d.volts)));
            state.call1((&lost.when, lost.battery, drops.collect::<PyResult<Vec<_>>>()?))
        });
        lost.collect()
    }

    /// The drive stalled, with a good and with a bad joint.
    #[getter]
    fn stalled<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let class = named(py, "records", "StalledCase")?;
        let cases = self.0.stalled.iter().map(|case| {
            let fields = PyDict::new(py);
            fields.set_item("direction", case.direction.to_string())?;
            fields.set_item("joint", &case.joint)?;
            fields.set_item("joint_resistance", case.joint_resistance)?;
            fields.set_item("what", case.joint_state.to_string())?;
            fields.set_item("current", case.current)?;
            fields.set_item("joint_power", case.joint_power)?;
            fields.set_item("fastest_trips_after", case.trips_after[0])?;
            fields.set_item("slowest_trips_after", case.trips_after[1])?;
            fields.set_item("winding_limit_after", case.winding_limit_after)?;
            fields.set_item("cable_limit_after", case.cable_limit_after)?;
            fields.set_item("hold_limit", case.hold_limit())?;
            fields.set_item("protected", case.protected())?;
            class.call((), Some(&fields))
        });
        cases.collect()
    }

    /// Curves of the picture, by name, and its caption.
    #[getter]
    fn picture<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let picture = &self.0.picture;
        let fields = PyDict::new(py);
        fields.set_item("fastest", curve(py, &picture.fastest)?)?;
        fields.set_item("slowest", curve(py, &picture.slowest)?)?;
        fields.set_item("cable", curve(py, &picture.cable)?)?;
        fields.set_item("rms", curve(py, &picture.rms)?)?;
        fields.set_item("ampacity", picture.ampacity)?;
        fields.set_item("rated", picture.rated)?;
        fields.set_item("caption", &picture.caption)?;
        named(py, "records", "TripPicture")?.call((), Some(&fields))
    }

    /// The picture: surge over trip band.
    #[pyo3(signature = (ax=None))]
    fn plot<'py>(slf: &Bound<'py, Self>, ax: Option<Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "plot", "surge", (slf, ax))
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
        format!("<SurgeStudy of \"{}\": {}>", self.0.drive.name, self.0.summary())
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "study_html", (slf,))
    }
}

impl SurgeStudy {
    fn runs(&self, direction: Direction) -> &surge::DirectionRuns {
        let [forward, reverse] = &self.0.directions;
        if direction == Direction::Forward { forward } else { reverse }
    }
}
