//! The reversing drive, its control and its faults.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use stallpoint::circuit::{OperatingOptions, TransientOptions};
use stallpoint::drive::{Direction, StartOptions};
use stallpoint::quantity::Time;

use crate::circuit::{Circuit, options};
use crate::convert::{description, quantity};
use crate::errors::{OrRaise, bad_argument};
use crate::faults::Fault;
use crate::instruments;
use crate::long_call::{detached, long_call};
use crate::operating_point::OperatingPoint;
use crate::python::{call, named};
use crate::run::Run;

/// A complete reversing motor circuit, battery to load.
#[pyclass(frozen, module = "stallpoint")]
pub struct Drive(pub Arc<stallpoint::Drive>);

/// A direction by its name.
pub fn direction(py: Python, name: &str) -> PyResult<Direction> {
    name.parse::<Direction>().or_raise(py)
}

/// The direction in which the control is held, none at rest.
fn held(py: Python, control: &str) -> PyResult<Option<Direction>> {
    match control {
        "at rest" => Ok(None),
        "forward" | "reverse" => Ok(Some(direction(py, control)?)),
        _ => {
            let allowed = "\"at rest\", \"forward\" or \"reverse\"";
            Err(bad_argument(py, "control", &format!("\"{control}\""), allowed))
        }
    }
}

impl Drive {
    /// Hands a drive to Python.
    pub fn of(drive: stallpoint::Drive) -> Self {
        Self(Arc::new(drive))
    }
}

#[pymethods]
impl Drive {
    /// A drive from parts and tables by name, as in its file.
    #[new]
    #[pyo3(signature = (**description))]
    fn new(py: Python, description: Option<Bound<'_, PyDict>>) -> PyResult<Self> {
        let given = description.unwrap_or_else(|| PyDict::new(py));
        let table = call(py, "parts", "describe_drive", (given,))?;
        let value = crate::convert::description(&table, "")?;
        Ok(Self::of(stallpoint::Drive::from_value(value).or_raise(py)?))
    }

    /// A demo drive by its name: "boat_lift", "conveyor_gate", "stage_lift". All its data are invented.
    #[staticmethod]
    fn demo(py: Python, name: &str) -> PyResult<Self> {
        match name {
            "boat_lift" => Self::from_toml_text(py, stallpoint::drive::BOAT_LIFT),
            "conveyor_gate" => Self::from_toml_text(py, stallpoint::drive::CONVEYOR_GATE),
            "stage_lift" => Self::from_toml_text(py, stallpoint::drive::STAGE_LIFT),
            _ => {
                let known = "\"boat_lift\", \"conveyor_gate\" or \"stage_lift\"";
                Err(bad_argument(py, "name", &format!("\"{name}\""), known))
            }
        }
    }

    /// Reads a drive's TOML file.
    #[staticmethod]
    fn from_toml(py: Python, path: std::path::PathBuf) -> PyResult<Self> {
        Ok(Self::of(stallpoint::Drive::from_toml_file(path).or_raise(py)?))
    }

    /// Reads a drive from the text of a TOML file.
    #[staticmethod]
    fn from_toml_text(py: Python, text: &str) -> PyResult<Self> {
        Ok(Self::of(stallpoint::Drive::from_toml_str(text).or_raise(py)?))
    }

    /// The drive as TOML text; written to a file too when a path is given.
    #[pyo3(signature = (path=None))]
    fn to_toml(&self, py: Python, path: Option<std::path::PathBuf>) -> PyResult<String> {
        let text = self.0.to_toml().or_raise(py)?;
        if let Some(path) = path {
            std::fs::write(path, &text)?;
        }
        Ok(text)
    }

    /// JSON Schema of drive files, as text.
    #[staticmethod]
    fn json_schema() -> String {
        stallpoint::Drive::json_schema()
    }

    /// What the drive is called.
    #[getter]
    fn name(&self) -> &str {
        &self.0.name
    }

    /// What protects it: "breaker" or "fuse".
    #[getter]
    fn protection(&self) -> &'static str {
        self.0.protection().name()
    }

    /// The drive as nested dicts, as its file holds it.
    #[getter]
    fn description<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        py.import("json")?.call_method1("loads", (self.0.to_value().or_raise(py)?.to_string(),))
    }

    /// The drive's circuit with the control switch worked as `control` says, at rest without one.
    #[pyo3(signature = (control=None))]
    fn circuit(slf: &Bound<'_, Self>, control: Option<&Bound<'_, Control>>) -> PyResult<Circuit> {
        let py = slf.py();
        let rest = stallpoint::drive::Control::new();
        let circuit = slf.get().0.circuit(control.map_or(&rest, |control| &control.get().0)).or_raise(py)?;
        Ok(Circuit::of_drive(circuit, (slf, control).into_pyobject(py)?.into_any().unbind()))
    }

    /// A copy with other values: a dict of paths in the drive's file to numbers in SI or texts with units.
    fn with_values(&self, py: Python, values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let mut pairs = Vec::new();
        for (key, value) in values {
            let key: String = key.extract()?;
            let value = description(&value, &key)?;
            pairs.push((key, value));
        }
        Ok(Self::of(self.0.with_values(pairs).or_raise(py)?))
    }

    /// What in the description looks like a slip, in words: a unit mistaken, a coil of another voltage. Nothing is refused for it; the
    /// limits are typical, without a source.
    fn doubts(&self) -> Vec<String> {
        self.0.doubts()
    }

    /// A copy with a fault in it.
    fn with_fault(&self, py: Python, fault: &Fault) -> PyResult<Self> {
        Ok(Self::of(self.0.with_fault(&fault.0).or_raise(py)?))
    }

    /// Starts the drive from rest and holds the control; the run ends with the hold.
    #[pyo3(signature = (direction="forward", *, hold, rtol=1e-4, max_step=None, energy=true, progress=None))]
    fn start(
        &self,
        py: Python,
        direction: &str,
        hold: &Bound<'_, PyAny>,
        rtol: f64,
        max_step: Option<&Bound<'_, PyAny>>,
        energy: bool,
        progress: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<Start>> {
        let direction = self::direction(py, direction)?;
        let mut start = StartOptions::hold(quantity::<Time>(hold, "hold")?).or_raise(py)?;
        start.transient = TransientOptions { energy, ..options(rtol, None, max_step)? };
        let drive = self.0.clone();
        let made = long_call(py, progress, |watcher| drive.start_watched(direction, &start, watcher))?;
        Start::new(py, made)
    }

    /// Works the control as given, from rest or from `start`, until a time.
    #[pyo3(signature = (control, until, *, rtol=1e-4, max_step=None, start=None, energy=true, progress=None))]
    fn run(
        &self,
        py: Python,
        control: &Control,
        until: &Bound<'_, PyAny>,
        rtol: f64,
        max_step: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        energy: bool,
        progress: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<Run>> {
        let until = quantity::<Time>(until, "until")?;
        let start = crate::state::start(start)?;
        let options = TransientOptions { energy, start, ..options(rtol, None, max_step)? };
        let (drive, control) = (self.0.clone(), control.0.clone());
        let run = long_call(py, progress, |watcher| drive.run_with(&control, until, &options, watcher))?;
        Run::new(py, run)
    }

    /// The operating point with the control "at rest", "forward" or "reverse".
    #[pyo3(signature = (control="at rest", *, start="standstill", settled=false))]
    fn operating_point(&self, py: Python, control: &str, start: &str, settled: bool) -> PyResult<OperatingPoint> {
        let held = held(py, control)?;
        let options = OperatingOptions { start: crate::circuit::start_from(py, start)?, settled };
        let drive = self.0.clone();
        Ok(OperatingPoint(detached(py, || drive.operating_point(held, &options))?))
    }

    /// What an instrument shows between two points with the control "at rest", "forward" or "reverse".
    #[pyo3(signature = (instrument, plus, minus, control="at rest"))]
    fn measure<'py>(
        &self,
        py: Python<'py>,
        instrument: &Bound<'py, PyAny>,
        plus: &str,
        minus: &str,
        control: &str,
    ) -> PyResult<Bound<'py, PyAny>> {
        let (instrument, held) = (instruments::instrument(instrument)?, held(py, control)?);
        let drive = self.0.clone();
        instruments::taken(py, || drive.measure(&instrument, plus, minus, held))
    }

    /// Whether a swap of wires reverses the drive.
    fn reverses_on(&self, py: Python, swap: &str) -> PyResult<bool> {
        Ok(self.0.motor.reverses_on(crate::motor::swap(py, swap)?))
    }

    /// Names of its joints.
    #[getter]
    fn joint_names(&self) -> Vec<&'static str> {
        self.0.joint_names()
    }

    /// The resistances of a joint at which the drive stalls and at which the contactor lets go, ohm.
    ///
    /// Args:
    ///     joint: one of :attr:`joint_names`.
    ///     direction: "forward" or "reverse".
    ///
    /// Raises:
    ///     ArgumentError: no such joint.
    #[pyo3(signature = (joint, direction="forward"))]
    fn stall_threshold<'py>(&self, py: Python<'py>, joint: &str, direction: &str) -> PyResult<Bound<'py, PyAny>> {
        let direction = self::direction(py, direction)?;
        let drive = self.0.clone();
        let found = detached(py, || drive.stall_threshold(joint, direction))?;
        let words = found.which_first.to_string();
        call(py, "records", "StallThreshold", (found.stalls_at, found.drops_out_at, words))
    }

    /// The values of any parameter at which the drive stalls and at which the contactor lets go, by bisection.
    ///
    /// Args:
    ///     key: path in the drive's file: "battery.series_resistance", "supply_cable.length", "ground_stud_joint.resistance".
    ///     good: a value with which it works, SI.
    ///     bad: a value to search up (or down) to, SI.
    ///     direction: "forward" or "reverse".
    ///
    /// Returns:
    ///     The values in SI: ``good`` where it fails there already, None where it works at ``bad`` still.
    ///
    /// Raises:
    ///     ValueKeyError: no such parameter, or a value that does not fit it.
    ///     ArgumentError: good and bad that are not two finite numbers.
    ///
    /// Example:
    ///     >>> import stallpoint as sp
    ///     >>> worn = sp.Drive.demo("boat_lift").stall_threshold_of("battery.series_resistance", 1e-3, 10.0)
    ///     >>> 0.01 < worn.stalls_at < 1
    ///     True
    #[pyo3(signature = (key, good, bad, direction="forward"))]
    fn stall_threshold_of<'py>(
        &self,
        py: Python<'py>,
        key: &str,
        good: f64,
        bad: f64,
        direction: &str,
    ) -> PyResult<Bound<'py, PyAny>> {
        let direction = self::direction(py, direction)?;
        let drive = self.0.clone();
        let found = detached(py, || drive.stall_threshold_of(key, good, bad, direction))?;
        let words = found.which_first.to_string();
        call(py, "records", "StallThreshold", (found.stalls_at, found.drops_out_at, words))
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other.cast::<Self>().is_ok_and(|other| self.0 == other.get().0)
    }

    fn __hash__(&self, py: Python) -> PyResult<u64> {
        let mut hasher = DefaultHasher::new();
        self.0.to_value().or_raise(py)?.to_string().hash(&mut hasher);
        Ok(hasher.finish())
    }

    fn __repr__(&self) -> String {
        format!("<Drive \"{}\">", self.0.name)
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        call(slf.py(), "_repr", "drive_html", (slf,))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        (named(py, "detached", "drive_from_toml")?, (self.0.to_toml().or_raise(py)?,)).into_pyobject(py)
    }
}

/// When the control switch calls for which direction.
#[pyclass(frozen, module = "stallpoint")]
#[derive(Default)]
pub struct Control(pub stallpoint::drive::Control);

impl Control {
    fn call(&self, direction: Direction, from: &Bound<'_, PyAny>, to: &Bound<'_, PyAny>) -> PyResult<Self> {
        let py = from.py();
        let (from, to) = (quantity::<Time>(from, "from")?, quantity::<Time>(to, "to")?);
        Ok(Self(self.0.clone().call(direction, from, to).or_raise(py)?))
    }
}

#[pymethods]
impl Control {
    /// At rest for all time.
    #[new]
    fn new() -> Self {
        Self::default()
    }

    /// A copy that also calls for forward between two times.
    fn forward(&self, start: &Bound<'_, PyAny>, end: &Bound<'_, PyAny>) -> PyResult<Self> {
        self.call(Direction::Forward, start, end)
    }

    /// A copy that also calls for reverse between two times.
    fn reverse(&self, start: &Bound<'_, PyAny>, end: &Bound<'_, PyAny>) -> PyResult<Self> {
        self.call(Direction::Reverse, start, end)
    }

    /// Spans in which a direction is called for, (start, end) in s.
    fn spans(&self, py: Python, direction: &str) -> PyResult<Vec<(f64, f64)>> {
        Ok(self.0.spans(self::direction(py, direction)?))
    }

    /// The last time at which anything is called for, s.
    #[getter]
    fn last_time(&self) -> f64 {
        self.0.last_time()
    }

    /// Equal when both call for the same, in whatever order that was said.
    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        let same = |other: &Self| Direction::BOTH.iter().all(|&d| self.0.spans(d) == other.0.spans(d));
        other.cast::<Self>().is_ok_and(|other| same(other.get()))
    }

    fn __repr__(&self) -> String {
        let spans = Direction::BOTH
            .map(|d| self.0.spans(d).iter().map(|(from, to)| format!(".{d}({from}, {to})")).collect::<String>());
        format!("Control(){}", spans.concat())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let [forward, reverse] = Direction::BOTH.map(|d| self.0.spans(d));
        (named(py, "detached", "control")?, (forward, reverse)).into_pyobject(py)
    }
}

/// A start: a run with its surge.
#[pyclass(frozen, extends = Run, module = "stallpoint")]
pub struct Start(stallpoint::drive::Surge);

impl Start {
    /// Hands a start to Python.
    pub fn new(py: Python, start: stallpoint::drive::Start) -> PyResult<Py<Self>> {
        Py::new(py, Run::initializer(start.run).add_subclass(Self(start.surge)))
    }
}

#[pymethods]
impl Start {
    /// The start-up surge in figures.
    #[getter]
    fn surge<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let s = &self.0;
        let fields = PyDict::new(py);
        fields.set_item("peak_current", s.peak_current)?;
        fields.set_item("time_of_peak", s.time_of_peak)?;
        fields.set_item("peak_motor_current", s.peak_motor_current)?;
        fields.set_item("time_to_speed", s.time_to_speed)?;
        fields.set_item("surge_i2t", s.surge_i2t)?;
        fields.set_item("lowest_stud_voltage", s.lowest_stud_voltage)?;
        fields.set_item("lowest_coil_voltage", s.lowest_coil_voltage)?;
        fields.set_item("stalled", s.stalled)?;
        fields.set_item("trips", s.trips.to_string())?;
        fields.set_item("tripped_at", s.tripped_at)?;
        fields.set_item("dropouts", s.dropouts)?;
        named(py, "records", "Surge")?.call((), Some(&fields))
    }
}
