//! What breakers and fuses are asked for outside a circuit: trip times, gates of standards.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use serde_json::Value;
use stallpoint::parts::{Breaker, Edge, Fuse, GateCheck};
use stallpoint::quantity::Current;
use stallpoint::tables::Status;
use stallpoint::tables::trip_gates::{Gate, iec_60898, road_vehicle_fuse, ul_248_14, ul_489};

use crate::convert::{described, description, quantity, read};
use crate::errors::{OrRaise, bad_argument};
use crate::interned::interned;
use crate::python::named;

/// A breaker or a fuse.
#[pyclass(frozen, module = "stallpoint._stallpoint")]
pub struct ProtectiveDevice(Device);

enum Device {
    Breaker(Box<Breaker>),
    Fuse(Box<Fuse>),
}

#[pymethods]
impl ProtectiveDevice {
    #[new]
    fn new(kind: &str, parameters: &Bound<'_, PyDict>) -> PyResult<Self> {
        let (py, value) = (parameters.py(), description(parameters, "")?);
        match kind {
            "Breaker" => Ok(Self(Device::Breaker(Box::new(read(py, kind, value)?)))),
            "Fuse" => Ok(Self(Device::Fuse(Box::new(read(py, kind, value)?)))),
            _ => Err(bad_argument(py, "kind", kind, "\"Breaker\" or \"Fuse\"")),
        }
    }

    /// Trip time from cold under a steady current, s; none when it never trips.
    fn trip_time(&self, current: &Bound<'_, PyAny>, position: f64) -> PyResult<Option<f64>> {
        let position = within(current.py(), position)?;
        let current = quantity::<Current>(current, "current")?.si();
        Ok(match &self.0 {
            Device::Breaker(breaker) => breaker.trip_time(position, current),
            Device::Fuse(fuse) => fuse.trip_time(position, current),
        })
    }

    /// Least current that trips it sooner or later, A.
    fn trips_from(&self, py: Python, position: f64) -> PyResult<f64> {
        let position = within(py, position)?;
        Ok(match &self.0 {
            Device::Breaker(breaker) => breaker.trips_from(position),
            Device::Fuse(fuse) => fuse.trips_from(position),
        })
    }

    /// Each requirement of these gates with what the device does.
    fn meets<'py>(&self, py: Python<'py>, gates: Vec<Bound<'py, PyAny>>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let gates = gates.iter().map(gate_from).collect::<PyResult<Vec<_>>>()?;
        let checks = match &self.0 {
            Device::Breaker(breaker) => breaker.meets(&gates),
            Device::Fuse(fuse) => fuse.meets(&gates),
        };
        checks.iter().map(|check| check_record(py, check)).collect()
    }

    /// Where it sits in its band.
    #[getter]
    fn band_position(&self) -> f64 {
        match &self.0 {
            Device::Breaker(breaker) => breaker.band_position.si(),
            Device::Fuse(fuse) => fuse.band_position.si(),
        }
    }

    /// Rated current at its ambient, A.
    #[getter]
    fn rated_at_ambient(&self) -> f64 {
        match &self.0 {
            Device::Breaker(breaker) => breaker.rated_at_ambient(),
            Device::Fuse(fuse) => fuse.rated_current.si(),
        }
    }

    /// Melting I²t of the fastest and the slowest fuse, A²s.
    #[getter]
    fn melting_i2t(&self) -> Option<[f64; 2]> {
        match &self.0 {
            Device::Breaker(_) => None,
            Device::Fuse(fuse) => fuse.melting_i2t(),
        }
    }

    /// The position in its band at which a fuse has a melting I²t.
    fn position_at(&self, py: Python, i2t: f64) -> PyResult<f64> {
        match &self.0 {
            Device::Breaker(_) => Err(bad_argument(py, "i2t", "given to a breaker", "asked of a fuse")),
            Device::Fuse(fuse) => Ok((**fuse).clone().at_melting_i2t(i2t).or_raise(py)?.band_position.si()),
        }
    }

    /// The gates of a fuse's class.
    #[getter]
    fn gates<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        match &self.0 {
            Device::Breaker(_) => Ok(Vec::new()),
            Device::Fuse(fuse) => records(py, &fuse.gates()),
        }
    }

    /// The band that a fuse works by, as a file holds it.
    #[getter]
    fn band<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        match &self.0 {
            Device::Breaker(breaker) => described(py, &breaker.trip_band),
            Device::Fuse(fuse) => described(py, &fuse.band()),
        }
    }
}

/// A miniature breaker of a type, as a file holds it.
#[pyfunction]
pub fn miniature_breaker<'py>(py: Python<'py>, kind: &str, rated: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    let rated = quantity::<Current>(rated, "rated_current")?;
    described(py, &Breaker::miniature(chosen(py, "kind", kind, "\"B\", \"C\" or \"D\"")?, rated).or_raise(py)?)
}

/// The gates of a standard for a rated current; `kind` is a breaker's type or a fuse's class where the standard has them.
#[pyfunction]
pub fn standard_gates<'py>(
    py: Python<'py>,
    standard: &str,
    kind: &str,
    rated: &Bound<'py, PyAny>,
) -> PyResult<Vec<Bound<'py, PyAny>>> {
    let rated = quantity::<Current>(rated, "rated_current")?.si();
    const CLASSES: &str = "\"blade_mini\", \"blade_ato\", \"blade_maxi\" or \"bolt_high_current\"";
    let gates = match standard {
        "iec_60898" => iec_60898(chosen(py, "kind", kind, "\"B\", \"C\" or \"D\"")?, rated),
        "ul_489" => ul_489(rated),
        "ul_248_14" => ul_248_14(rated),
        _ => road_vehicle_fuse(chosen(py, "fuse_class", kind, CLASSES)?, rated),
    };
    records(py, &gates)
}

/// One of a few words.
fn chosen<T: serde::de::DeserializeOwned>(py: Python, argument: &str, word: &str, allowed: &str) -> PyResult<T> {
    serde_json::from_value(Value::from(word))
        .map_err(|_| bad_argument(py, argument, &format!("\"{word}\""), &format!("one of {allowed}")))
}

fn within(py: Python, position: f64) -> PyResult<f64> {
    if (0.0..=1.0).contains(&position) {
        return Ok(position);
    }
    Err(bad_argument(py, "position", &position.to_string(), "between 0, the fastest, and 1, the slowest"))
}

const STATUSES: [(&str, Status); 4] = [
    ("read", Status::Read),
    ("recomputed", Status::Recomputed),
    ("memory", Status::Memory),
    ("typical", Status::Typical),
];

fn gate_from(record: &Bound<'_, PyAny>) -> PyResult<Gate> {
    let word: String = record.getattr("status")?.extract()?;
    let status = STATUSES.iter().find(|(known, _)| *known == word).map(|(_, status)| *status).ok_or_else(|| {
        let known = STATUSES.map(|(known, _)| format!("\"{known}\"")).join(", ");
        bad_argument(record.py(), "status", &format!("\"{word}\""), &format!("one of {known}"))
    })?;
    Ok(Gate {
        standard: interned(&record.getattr("standard")?.extract::<String>()?),
        multiple: record.getattr("multiple")?.extract()?,
        holds_for: record.getattr("holds_for")?.extract()?,
        trips_within: record.getattr("trips_within")?.extract()?,
        status,
    })
}

fn gate_record<'py>(py: Python<'py>, gate: &Gate) -> PyResult<Bound<'py, PyAny>> {
    let status = STATUSES.iter().find(|(_, status)| *status == gate.status).map_or("memory", |(word, _)| word);
    named(py, "records", "Gate")?.call1((gate.standard, gate.multiple, gate.holds_for, gate.trips_within, status))
}

fn records<'py>(py: Python<'py>, gates: &[Gate]) -> PyResult<Vec<Bound<'py, PyAny>>> {
    gates.iter().map(|gate| gate_record(py, gate)).collect()
}

fn check_record<'py>(py: Python<'py>, check: &GateCheck) -> PyResult<Bound<'py, PyAny>> {
    let edge = match check.edge {
        Edge::Fastest => "fastest",
        Edge::Slowest => "slowest",
    };
    let gate = gate_record(py, &check.gate)?;
    named(py, "records", "GateCheck")?.call1((gate, edge, check.trips_in, check.holds, check.to_string()))
}
