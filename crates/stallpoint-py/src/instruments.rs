//! Readings of instruments.

use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::instruments::{Instrument, InstrumentError, Ohmmeter, Reading};
use stallpoint::parts::ClampAmmeter;
use stallpoint::quantity::{Current, Resistance, Time, Voltage};

use crate::circuit::Circuit;
use crate::convert::{description, quantity, read};
use crate::errors::{OrRaise, bad_argument, raise};
use crate::long_call::detached;
use crate::python::{call, named};
use crate::run::Run;

/// An instrument with two probes: a voltmeter, a test lamp, an ohmmeter.
pub fn instrument(object: &Bound<'_, PyAny>) -> PyResult<Instrument> {
    let py = object.py();
    let refused = || {
        let allowed = "an sp.Voltmeter, an sp.TestLamp or an sp.Ohmmeter";
        bad_argument(py, "instrument", &object.repr().map_or_else(|_| "?".into(), |text| text.to_string()), allowed)
    };
    if !object.is_instance(&named(py, "parts", "Description")?)? {
        return Err(refused());
    }
    let (kind, own): (String, Bound<'_, PyAny>) = (object.getattr("kind")?.extract()?, object.getattr("parameters")?);
    match kind.as_str() {
        "Voltmeter" => Ok(Instrument::Voltmeter(read(py, &kind, description(&own, "")?)?)),
        "TestLamp" => Ok(Instrument::TestLamp(read(py, &kind, description(&own, "")?)?)),
        "Ohmmeter" => Ok(Instrument::Ohmmeter(ohmmeter(own.cast::<PyDict>()?)?)),
        _ => Err(refused()),
    }
}

fn ohmmeter(own: &Bound<'_, PyDict>) -> PyResult<Ohmmeter> {
    let mut meter = Ohmmeter::default();
    if let Some(value) = own.get_item("test_voltage")? {
        meter.test_voltage = quantity::<Voltage>(&value, "test_voltage")?;
    }
    if let Some(value) = own.get_item("test_current")? {
        meter.test_current = quantity::<Current>(&value, "test_current")?;
    }
    if let Some(value) = own.get_item("largest")? {
        meter.largest = quantity::<Resistance>(&value, "largest")?;
    }
    if let Some(value) = own.get_item("live_above")? {
        meter.live_above = quantity::<Voltage>(&value, "live_above")?;
    }
    Ok(meter)
}

/// Takes a reading without the GIL and hands it to Python.
pub fn taken<'py>(
    py: Python<'py>,
    work: impl FnOnce() -> Result<Reading, InstrumentError> + Send,
) -> PyResult<Bound<'py, PyAny>> {
    match detached(py, || Ok(work()))? {
        Ok(reading) => record(py, &reading),
        Err(InstrumentError::Circuit(error)) => Err(error).or_raise(py),
        Err(refused) => Err(exception(py, &refused)?),
    }
}

fn record<'py>(py: Python<'py>, reading: &Reading) -> PyResult<Bound<'py, PyAny>> {
    let word = reading.word.map(|word| word.to_string());
    call(py, "records", "Reading", (reading.value, reading.unit, word, reading.to_string()))
}

fn exception(py: Python, refused: &InstrumentError) -> PyResult<PyErr> {
    let fields = PyDict::new(py);
    match refused {
        InstrumentError::Live { plus, minus, voltage } => {
            fields.set_item("kind", "live")?;
            fields.set_item("plus", plus)?;
            fields.set_item("minus", minus)?;
            fields.set_item("voltage", voltage)?;
        }
        InstrumentError::AboveRating { plus, minus, rated, highest, voltage } => {
            fields.set_item("kind", "above_rating")?;
            fields.set_item("plus", plus)?;
            fields.set_item("minus", minus)?;
            fields.set_item("rated", rated)?;
            fields.set_item("highest", highest)?;
            fields.set_item("voltage", voltage)?;
        }
        InstrumentError::Circuit(_) => {}
    }
    Ok(raise(py, "InstrumentError", &refused.to_string(), &fields))
}

fn clamp(parameters: &Bound<'_, PyDict>) -> PyResult<ClampAmmeter> {
    read(parameters.py(), "ClampAmmeter", description(parameters, "")?)
}

/// What a clamp ammeter shows round a part at a circuit's operating point.
#[pyfunction]
pub fn clamp_read<'py>(parameters: &Bound<'py, PyDict>, circuit: &Circuit, part: &str) -> PyResult<Bound<'py, PyAny>> {
    let (clamp, circuit) = (clamp(parameters)?, circuit.inner().clone());
    taken(parameters.py(), || Ok(clamp.read(&circuit, part)?))
}

/// Times and readings.
type Shown<'py> = (Bound<'py, PyArray1<f64>>, Bound<'py, PyArray1<f64>>);

/// What a clamp ammeter shows round a part over a run.
#[pyfunction]
pub fn clamp_read_run<'py>(parameters: &Bound<'py, PyDict>, run: &Run, part: &str) -> PyResult<Shown<'py>> {
    let (py, clamp, run) = (parameters.py(), clamp(parameters)?, run.inner());
    let (times, shown) = detached(py, || clamp.read_run(&run, part))?;
    Ok((times.into_pyarray(py), shown.into_pyarray(py)))
}

/// The largest reading in a clamp ammeter's window, and when.
#[pyfunction]
pub fn clamp_peak_hold<'py>(
    parameters: &Bound<'py, PyDict>,
    run: &Run,
    part: &str,
    start: &Bound<'py, PyAny>,
) -> PyResult<(Bound<'py, PyAny>, f64)> {
    let (py, clamp, run) = (parameters.py(), clamp(parameters)?, run.inner());
    let start = quantity::<Time>(start, "start")?.si();
    let peak = detached(py, || clamp.peak_hold(&run, part, start))?;
    Ok((record(py, &peak.reading)?, peak.at))
}
