//! Values from Python.

use numpy::{PyArray1, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyInt, PyString};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Number, Value};
use stallpoint::quantity::{IntoQuantity, Quantity};
use stallpoint::{Error, PartError};

use crate::errors::{OrRaise, bad_argument};

/// A description: texts, numbers, truth values, lists and arrays, dicts (entries that are `None` are left out).
pub fn description(value: &Bound<'_, PyAny>, path: &str) -> PyResult<Value> {
    let py = value.py();
    if let Ok(text) = value.cast::<PyString>() {
        return Ok(Value::String(text.to_string()));
    }
    if let Ok(truth) = value.cast::<PyBool>() {
        return Ok(Value::Bool(truth.is_true()));
    }
    if let Ok(table) = value.cast::<PyDict>() {
        let mut map = Map::new();
        for (key, entry) in table {
            let key: String = key.extract()?;
            if !entry.is_none() {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                map.insert(key, description(&entry, &path)?);
            }
        }
        return Ok(Value::Object(map));
    }
    // A part of the library describes itself.
    if let Ok(own) = value.getattr("_description") {
        return description(&own, path);
    }
    if let Ok(whole) = value.cast::<PyInt>()
        && let Ok(whole) = whole.extract::<i64>()
    {
        return Ok(Value::from(whole));
    }
    if value.len().is_ok() {
        let entries = value.try_iter()?.enumerate();
        return entries.map(|(i, entry)| description(&entry?, &format!("{path}[{i}]"))).collect();
    }
    let Ok(number) = value.extract::<f64>() else {
        let allowed = "a number in its SI unit or a text with a unit";
        return Err(bad_argument(py, path, &value.repr()?.to_string(), allowed));
    };
    match Number::from_f64(number) {
        Some(number) => Ok(Value::Number(number)),
        None => Err(bad_argument(py, path, &number.to_string(), "a finite number")),
    }
}

/// A quantity: a number in its SI unit, or a text with a unit.
pub fn quantity<Q: Quantity>(value: &Bound<'_, PyAny>, argument: &str) -> PyResult<Q> {
    let py = value.py();
    let read = if let Ok(text) = value.cast::<PyString>() {
        IntoQuantity::<Q>::into_quantity(text.to_string())
    } else if let Ok(number) = value.extract::<f64>() {
        number.into_quantity()
    } else {
        let allowed = format!("a {} as a number in {} or a text such as \"{}\"", Q::NAME, Q::UNIT, Q::EXAMPLE);
        return Err(bad_argument(py, argument, &value.repr()?.to_string(), &allowed));
    };
    read.map_err(|source| PartError::Quantity { argument: argument.into(), source }).or_raise(py)
}

/// Numbers in one row: a list, an array of any number type, strided or not.
pub fn numbers(values: &Bound<'_, PyAny>, argument: &str) -> PyResult<Vec<f64>> {
    let py = values.py();
    let options = PyDict::new(py);
    options.set_item("dtype", "float64")?;
    let refused = |_| {
        let allowed = "one row of numbers: a list or a one-dimensional array";
        bad_argument(py, argument, &values.repr().map_or_else(|_| "?".into(), |text| text.to_string()), allowed)
    };
    let array = py.import("numpy")?.call_method("asarray", (values,), Some(&options)).map_err(refused)?;
    let array = array.cast_into::<PyArray1<f64>>().map_err(|error| refused(error.into()))?;
    Ok(array.readonly().as_array().to_vec())
}

/// Reads a description of something that was checked when it was made.
pub fn read<T: DeserializeOwned>(py: Python, what: &str, value: Value) -> PyResult<T> {
    serde_json::from_value(value)
        .map_err(|error| Error::Description { what: what.into(), problem: error.to_string() })
        .or_raise(py)
}

/// The description of something, as nested dicts.
pub fn described<'py>(py: Python<'py>, value: &impl Serialize) -> PyResult<Bound<'py, PyAny>> {
    let text = serde_json::to_string(value)
        .map_err(|error| Error::Description { what: "description".into(), problem: error.to_string() })
        .or_raise(py)?;
    py.import("json")?.call_method1("loads", (text,))
}
