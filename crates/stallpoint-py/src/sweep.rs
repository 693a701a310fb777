//! Sweeps.

use numpy::IntoPyArray;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};
use serde_json::Value;
use stallpoint::quantity::Time;
use stallpoint::studies::sweep::{self, Axis, Coordinates, Measure, MeasureKind, SweepOptions};

use crate::convert::{description, quantity};
use crate::drive::{Drive, direction};
use crate::errors::{OrRaise, bad_argument};
use crate::long_call::long_call;
use crate::python::{call, named};
use crate::records::ending;

/// The axes of a dict: a key, or a tuple of keys that change together, to its values.
fn axes(values: &Bound<'_, PyDict>) -> PyResult<Vec<Axis>> {
    let mut axes = Vec::new();
    for (keys, values) in values {
        let keys: Vec<String> = match keys.extract::<String>() {
            Ok(key) => vec![key],
            Err(_) => keys.extract()?,
        };
        match description(&values, &keys.join(", "))? {
            Value::Array(values) => axes.push(Axis::together(keys, values)),
            other => return Err(bad_argument(values.py(), &keys.join(", "), &other.to_string(), "a list of values")),
        }
    }
    Ok(axes)
}

/// Starts a drive at every point of a grid.
#[pyfunction]
#[pyo3(signature = (drive, values, measure, *, direction="forward", hold=None, rtol=1e-4, threads=None, progress=None))]
pub fn sweep_table<'py>(
    py: Python<'py>,
    drive: &Drive,
    values: &Bound<'py, PyDict>,
    measure: Vec<String>,
    direction: &str,
    hold: Option<&Bound<'py, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let mut options = SweepOptions { direction: self::direction(py, direction)?, threads, ..SweepOptions::default() };
    if let Some(hold) = hold {
        options.hold = quantity::<Time>(hold, "hold")?.si();
    }
    options.transient.rtol = rtol;
    let axes = axes(values)?;
    let measures = Measure::list(measure).or_raise(py)?;
    let drive = drive.0.clone();
    let table = long_call(py, progress, |watcher| sweep::sweep(&drive, &axes, &measures, &options, watcher))?;

    let shape = table.shape();
    let dimensions = PyList::empty(py);
    for axis in &table.axes {
        let keys = PyDict::new(py);
        for key in &axis.keys {
            let coordinates = match &key.coordinates {
                Coordinates::Numbers(numbers) => numbers.clone().into_pyarray(py).into_any(),
                texts => (0..texts.len()).map(|place| texts.text(place)).collect::<Vec<_>>().into_pyobject(py)?,
            };
            keys.set_item(&key.key, (coordinates, &key.unit))?;
        }
        dimensions.append((&axis.name, keys))?;
    }
    let columns = PyDict::new(py);
    for column in table.columns {
        let kind = match column.kind {
            MeasureKind::Number => "number",
            MeasureKind::Flag => "flag",
            MeasureKind::Word(_) => "word",
        };
        let values = column.values.into_pyarray(py).call_method1("reshape", (shape.clone(),))?;
        columns.set_item(column.name, (values, column.unit, kind))?;
    }
    named(py, "sweeps", "Sweep")?;
    call(py, "sweeps", "Sweep", (dimensions, columns, table.failures, shape, ending(table.ending)))
}
