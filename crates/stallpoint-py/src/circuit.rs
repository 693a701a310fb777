//! Circuits.

use std::collections::BTreeMap;

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};
use stallpoint::circuit::{OperatingOptions, Part, StartFrom, TransientOptions};
use stallpoint::quantity::Time;

use crate::convert::quantity;
use crate::errors::{OrRaise, bad_argument};
use crate::instruments;
use crate::long_call::{detached, long_call};
use crate::operating_point::OperatingPoint;
use crate::own_part::OwnPart;
use crate::part::NativePart;
use crate::python::named;
use crate::run::Run;

/// A circuit: parts by name between nodes by name.
#[pyclass(module = "stallpoint")]
pub struct Circuit {
    circuit: stallpoint::Circuit,
    /// What it began as: the name of the reference of an empty circuit, or a drive and its control.
    origin: Py<PyAny>,
    /// Every change in order, as (method, arguments, keywords): a copy is made by doing them again.
    log: Vec<(&'static str, Py<PyTuple>, Py<PyDict>)>,
}

impl Circuit {
    /// The circuit of a drive.
    pub fn of_drive(circuit: stallpoint::Circuit, origin: Py<PyAny>) -> Self {
        Self { circuit, origin, log: Vec::new() }
    }

    /// The library's own.
    pub fn inner(&self) -> &stallpoint::Circuit {
        &self.circuit
    }
}

/// A part from Python to put into a circuit: one of the library's, or one written in Python.
pub fn boxed(part: &Bound<'_, PyAny>) -> PyResult<Box<dyn Part>> {
    let py = part.py();
    if part.is_instance(&named(py, "parts", "OwnPart")?)? {
        return Ok(Box::new(OwnPart::new(part)?));
    }
    if part.is_instance(&named(py, "parts", "Part")?)?
        && let Ok(native) = part.getattr("_native")?.cast::<NativePart>()
    {
        return Ok(native.get().boxed());
    }
    Err(bad_argument(py, "part", &part.repr()?.to_string(), "a part, for example sp.Resistor(\"30 mohm\")"))
}

#[pymethods]
impl Circuit {
    #[new]
    #[pyo3(signature = (reference="ground"))]
    fn new(py: Python, reference: &str) -> PyResult<Self> {
        let origin = reference.into_pyobject(py)?.into_any().unbind();
        Ok(Self { circuit: stallpoint::Circuit::with_reference(reference), origin, log: Vec::new() })
    }

    /// Name of the reference node.
    #[getter]
    fn reference(&self) -> &str {
        self.circuit.reference()
    }

    /// Names of all nodes, the reference first.
    #[getter]
    fn nodes(&self) -> Vec<&str> {
        self.circuit.node_names()
    }

    /// Names of all parts in the order they were added.
    #[getter]
    fn parts(&self) -> Vec<&str> {
        self.circuit.part_names()
    }

    /// Adds a part; the keywords give the node of each terminal.
    #[pyo3(signature = (name, part, /, **connections))]
    fn add(
        &mut self,
        py: Python,
        name: &str,
        part: &Bound<'_, PyAny>,
        connections: Option<Bound<'_, PyDict>>,
    ) -> PyResult<()> {
        let connections = connections.unwrap_or_else(|| PyDict::new(py));
        let nodes: Vec<(String, String)> =
            connections.iter().map(|(t, n)| Ok((t.extract()?, n.extract()?))).collect::<PyResult<_>>()?;
        let nodes = nodes.iter().map(|(terminal, node)| (terminal.as_str(), node.as_str()));
        self.circuit.add_boxed(name, boxed(part)?, nodes).or_raise(py)?;
        self.log.push(("add", (name, part).into_pyobject(py)?.unbind(), connections.unbind()));
        Ok(())
    }

    /// Puts a load on the shaft of the part `on`; returns the name it gets.
    #[pyo3(signature = (on, part, /))]
    fn attach(&mut self, py: Python, on: &str, part: &Bound<'_, PyAny>) -> PyResult<String> {
        let name = self.circuit.attach_boxed(on, boxed(part)?).or_raise(py)?;
        self.log.push(("attach", (on, part).into_pyobject(py)?.unbind(), PyDict::new(py).unbind()));
        Ok(name)
    }

    /// Puts another part in the place of one with the same terminals.
    #[pyo3(signature = (name, part, /))]
    fn replace(&mut self, py: Python, name: &str, part: &Bound<'_, PyAny>) -> PyResult<()> {
        self.circuit.replace(name, boxed(part)?).or_raise(py)?;
        self.log.push(("replace", (name, part).into_pyobject(py)?.unbind(), PyDict::new(py).unbind()));
        Ok(())
    }

    /// Warnings about the topology that do not forbid a solution.
    fn warnings(&self, py: Python) -> PyResult<Vec<String>> {
        self.circuit.warnings().or_raise(py)
    }

    /// The operating point.
    #[pyo3(signature = (*, start="standstill", settled=false))]
    fn operating_point(slf: &Bound<'_, Self>, start: &str, settled: bool) -> PyResult<OperatingPoint> {
        let py = slf.py();
        let circuit = slf.borrow().circuit.clone();
        let options = OperatingOptions { start: start_from(py, start)?, settled };
        Ok(OperatingPoint(detached(py, || circuit.operating_point_with(&options))?))
    }

    /// What an instrument shows between two nodes.
    fn measure<'py>(
        slf: &Bound<'py, Self>,
        instrument: &Bound<'py, PyAny>,
        plus: &str,
        minus: &str,
    ) -> PyResult<Bound<'py, PyAny>> {
        let circuit = slf.borrow().circuit.clone();
        let instrument = instruments::instrument(instrument)?;
        instruments::taken(slf.py(), || instrument.read(&circuit, plus, minus))
    }

    /// The transient to the time `until`.
    #[pyo3(signature = (until, *, rtol=1e-4, atol=None, max_step=None, max_steps=2_000_000, start=None, progress=None,
                        stop_at_event_of=None, energy=true))]
    fn transient(
        slf: &Bound<'_, Self>,
        until: &Bound<'_, PyAny>,
        rtol: f64,
        atol: Option<BTreeMap<String, f64>>,
        max_step: Option<&Bound<'_, PyAny>>,
        max_steps: u64,
        start: Option<&Bound<'_, PyAny>>,
        progress: Option<&Bound<'_, PyAny>>,
        stop_at_event_of: Option<String>,
        energy: bool,
    ) -> PyResult<Py<Run>> {
        let py = slf.py();
        let until = quantity::<Time>(until, "until")?.si();
        let mut options = options(rtol, atol, max_step)?;
        (options.max_steps, options.energy) = (max_steps, energy);
        options.start = crate::state::start(start)?;
        options.stop_at_event_of = stop_at_event_of;
        let circuit = slf.borrow().circuit.clone();
        let run = long_call(py, progress, |watcher| circuit.transient_watched(until, &options, watcher))?;
        Run::new(py, run)
    }

    fn __repr__(&self) -> String {
        let (parts, nodes) = (self.circuit.part_names().len(), self.circuit.node_names().len());
        format!("<Circuit of {parts} parts between {nodes} nodes>")
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        let py = slf.py();
        let own = slf.borrow();
        let log = PyList::empty(py);
        for (method, arguments, keywords) in &own.log {
            log.append((*method, arguments.bind(py), keywords.bind(py)))?;
        }
        (named(py, "circuits", "rebuild")?, (own.origin.bind(py), log)).into_pyobject(py)
    }
}

/// Which equilibrium is sought, by its name.
pub fn start_from(py: Python, start: &str) -> PyResult<StartFrom> {
    match start {
        "standstill" => Ok(StartFrom::Standstill),
        "running" => Ok(StartFrom::Running),
        _ => Err(bad_argument(py, "start", &format!("\"{start}\""), "\"standstill\" or \"running\"")),
    }
}

/// Tolerances and the longest step.
pub fn options(
    rtol: f64,
    atol: Option<BTreeMap<String, f64>>,
    max_step: Option<&Bound<'_, PyAny>>,
) -> PyResult<TransientOptions> {
    let mut options =
        TransientOptions { rtol, atol: atol.unwrap_or_default().into_iter().collect(), ..TransientOptions::default() };
    if let Some(step) = max_step {
        options.max_step = quantity::<Time>(step, "max_step")?.si();
    }
    Ok(options)
}
