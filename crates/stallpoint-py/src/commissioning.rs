//! Refit and commissioning.

use std::sync::Mutex;

use pyo3::prelude::*;
use stallpoint::studies::commissioning::{self, CommissioningSheet as Sheet, Wire};
use stallpoint::studies::faultfinding::Observed;

use crate::drive::Drive;
use crate::errors::OrRaise;
use crate::faults::{document, observed};
use crate::long_call::detached;
use crate::python::{call, named};

/// Every wire of a drive with the studs it belongs on, whatever is swapped on it now.
///
/// Returns:
///     A list of :class:`Wire <stallpoint.Wire>`.
#[pyfunction]
pub fn wiring_map<'py>(py: Python<'py>, drive: &Drive) -> PyResult<Bound<'py, PyAny>> {
    let class = named(py, "faults", "Wire")?;
    let rows = commissioning::wiring_map(&drive.0).into_iter().map(|w| class.call1((w.wire, w.from, w.to)));
    call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
}

/// What is wrong with wires as found, in words; empty when all is right.
///
/// Args:
///     drive: the drive.
///     found: (wire, from, to) each; wires not looked at may be left out, either end may come first.
///
/// Raises:
///     ArgumentError: a wire that the drive does not have.
#[pyfunction]
pub fn check_wiring(py: Python, drive: &Drive, found: Vec<(String, String, String)>) -> PyResult<Vec<String>> {
    let found: Vec<Wire> = found.iter().map(|(wire, from, to)| Wire::new(wire, from, to)).collect();
    let wrong = commissioning::check_wiring(&drive.0, &found).or_raise(py)?;
    Ok(wrong.into_iter().map(|own| own.words).collect())
}

/// The truth table of swapped wires to direction.
///
/// Returns:
///     Sixteen :class:`SwapRow <stallpoint.SwapRow>`: each of four swaps or not.
#[pyfunction]
pub fn swap_table<'py>(py: Python<'py>, drive: &Drive) -> PyResult<Bound<'py, PyAny>> {
    let own = drive.0.clone();
    let rows = detached(py, || commissioning::swap_table(&own))?;
    let class = named(py, "faults", "SwapRow")?;
    let rows = rows.iter().map(|row| {
        let [forward, reverse] = row.turns;
        class.call1((row.motor_wires, row.signal_wires, row.supply_and_ground, row.battery, forward, reverse))
    });
    call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
}

/// Expected readings with bands, to be filled in.
#[pyclass(frozen, module = "stallpoint")]
pub struct CommissioningSheet(Mutex<Sheet>);

impl CommissioningSheet {
    fn lock(&self) -> std::sync::MutexGuard<'_, Sheet> {
        // A panic while it was held leaves values that are whole.
        self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

/// Expected readings of a drive with bands, wiring map and truth table, to be filled in after a refit.
#[pyfunction]
pub fn commissioning_sheet(py: Python, drive: &Drive) -> PyResult<CommissioningSheet> {
    let own = drive.0.clone();
    Ok(CommissioningSheet(Mutex::new(detached(py, || commissioning::commissioning_sheet(&own))?)))
}

#[pymethods]
impl CommissioningSheet {
    /// Its lines.
    #[getter]
    fn lines<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let class = named(py, "faults", "SheetLine")?;
        let plain = |observed: &Observed| -> PyResult<Bound<'py, PyAny>> {
            Ok(match observed {
                Observed::Number(value) => value.into_pyobject(py)?.into_any(),
                Observed::Word(word) => word.into_pyobject(py)?.into_any(),
            })
        };
        let sheet = self.lock();
        let rows = sheet.lines.iter().map(|line| {
            let m = &line.measurement;
            let reading = line.reading.as_ref().map(&plain).transpose()?;
            let fields = (m.tool.name(), &m.plus, &m.minus, m.held.name());
            class.call1((
                fields.0,
                fields.1,
                fields.2,
                fields.3,
                plain(&line.expected)?,
                line.tolerance,
                m.tool.unit(),
                reading,
                line.verdict.to_string(),
            ))
        });
        call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
    }

    /// Fills in a reading; the verdict of its line: "pass", "marginal" or "fail".
    ///
    /// Args:
    ///     line: index of the line.
    ///     reading: a number in the line's unit (0.0146 V, not 14.6), a text with a unit ("14.6 mV"), or a word.
    ///
    /// Raises:
    ///     ArgumentError: there is no such line.
    fn fill(&self, py: Python, line: usize, reading: &Bound<'_, PyAny>) -> PyResult<String> {
        let mut sheet = self.lock();
        let tool = sheet.lines.get(line).map(|line| line.measurement.tool);
        let reading = match tool {
            Some(tool) => observed(tool, reading)?,
            None => Observed::Word(String::new()),
        };
        Ok(sheet.fill(line, reading).or_raise(py)?.to_string())
    }

    /// The sheet as text, Markdown, HTML.
    #[getter]
    fn report<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        document(py, &self.lock().document())
    }

    fn __repr__(&self) -> String {
        let sheet = self.lock();
        format!("<CommissioningSheet of \"{}\", {} lines>", sheet.drive, sheet.lines.len())
    }
}
