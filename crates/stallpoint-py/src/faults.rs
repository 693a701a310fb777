//! Faults: their catalogue, the readings, the finder, the procedure.

use std::sync::{Arc, Mutex, MutexGuard};

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use stallpoint::drive::fault_catalogue as catalogue;
use stallpoint::quantity::{Current, Resistance, Voltage};
use stallpoint::report::Document;
use stallpoint::studies::faultfinding::{
    self, FaultTable, Held, Measurement, NextTest, Observed, StopRule, TableOptions, Tool,
};

use crate::convert::quantity;
use crate::drive::{Drive, direction};
use crate::errors::OrRaise;
use crate::long_call::{detached, long_call};
use crate::python::{call, named};

/// A fault of one part of a drive: a joint whose total resistance is ``resistance``, ohm, or any fault of the catalogue by its
/// part and mode, as bad as ``amount`` says in the catalogue's unit (typically bad when left out).
#[pyclass(frozen, module = "stallpoint")]
pub struct Fault(pub stallpoint::drive::Fault);

#[pymethods]
impl Fault {
    /// A joint whose total resistance is `resistance`, or any fault of the catalogue by its part and mode.
    #[new]
    #[pyo3(signature = (part, mode="corroded", *, resistance=None, amount=None))]
    fn new(
        py: Python,
        part: &str,
        mode: &str,
        resistance: Option<&Bound<'_, PyAny>>,
        amount: Option<f64>,
    ) -> PyResult<Self> {
        let fault = stallpoint::drive::Fault::new(part, mode);
        Ok(Self(match (resistance, amount) {
            (Some(given), None) => {
                let resistance = quantity::<Resistance>(given, "resistance")?;
                if mode == "corroded" {
                    stallpoint::drive::Fault::joint(part, resistance).or_raise(py)?
                } else {
                    fault.with_amount(resistance.si())
                }
            }
            (None, Some(amount)) => fault.with_amount(amount),
            (None, None) => fault,
            (Some(_), Some(amount)) => {
                let allowed = "left out where `resistance` is given";
                return Err(crate::errors::bad_argument(py, "amount", &amount.to_string(), allowed));
            }
        }))
    }

    /// The part.
    #[getter]
    fn part(&self) -> &str {
        &self.0.part
    }

    /// How it fails.
    #[getter]
    fn mode(&self) -> &str {
        &self.0.mode
    }

    /// How bad, in the catalogue's unit; None for the typical amount.
    #[getter]
    fn amount(&self) -> Option<f64> {
        self.0.amount
    }

    /// The amount as a resistance, ohm.
    #[getter]
    fn resistance(&self) -> Option<f64> {
        self.0.amount
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other.cast::<Self>().is_ok_and(|other| self.0 == other.get().0)
    }

    fn __repr__(&self) -> String {
        let amount = self.0.amount.map_or(String::new(), |amount| format!(", amount={amount}"));
        format!("Fault(\"{}\", \"{}\"{amount})", self.0.part, self.0.mode)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let fields = (&self.0.part, &self.0.mode, self.0.amount);
        (named(py, "detached", "fault")?, fields).into_pyobject(py)
    }
}

/// The faults that a drive may have: part, mode, words, section, range of severity, prior (common practice, no source), hazard.
///
/// Args:
///     drive: the drive.
///
/// Returns:
///     A list of :class:`CatalogueEntry <stallpoint.CatalogueEntry>`, section by section.
#[pyfunction]
pub fn fault_catalogue<'py>(py: Python<'py>, drive: &Drive) -> PyResult<Bound<'py, PyAny>> {
    let class = named(py, "faults", "CatalogueEntry")?;
    let rows = catalogue(&drive.0).into_iter().map(|entry| {
        let amount = entry.amount.as_ref();
        let (unit, mild, severe) = (amount.map(|a| a.unit.clone()), amount.map(|a| a.mild), amount.map(|a| a.severe));
        let section = entry.section.to_string();
        class.call1((entry.part, entry.mode, entry.words, section, unit, mild, severe, entry.prior, entry.hazard))
    });
    call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
}

/// A reading in Python's terms: a number or a word.
fn plain<'py>(py: Python<'py>, observed: &Observed) -> PyResult<Bound<'py, PyAny>> {
    Ok(match observed {
        Observed::Number(value) => value.into_pyobject(py)?.into_any(),
        Observed::Word(word) => word.into_pyobject(py)?.into_any(),
    })
}

/// What every instrument shows on a drive, healthy or not: probe pair x control position x instrument, with tolerance.
///
/// Steady readings come from operating points (a mean while the contactor chatters), those "surge" from a start. Tolerances are
/// two deviations over drives drawn from their parameters' spread, with the meter's accuracy (typical, no source). Nothing is shown
/// finer than the instrument's display.
///
/// Args:
///     drive: the drive. A motor is called slow against this drive as it is.
///
/// Returns:
///     A list of :class:`ReadingRow <stallpoint.ReadingRow>`.
///
/// Raises:
///     ArgumentError: a description that cannot be a drive.
#[pyfunction]
pub fn readings<'py>(py: Python<'py>, drive: &Drive) -> PyResult<Bound<'py, PyAny>> {
    let own = drive.0.clone();
    let rows = detached(py, || faultfinding::readings(&own))?;
    let class = named(py, "faults", "ReadingRow")?;
    let rows = rows.iter().map(|row| {
        let m = &row.measurement;
        let fields = (m.tool.name(), &m.plus, &m.minus, m.held.name(), row.when.to_string());
        class.call1((
            fields.0,
            fields.1,
            fields.2,
            fields.3,
            fields.4,
            plain(py, &row.shows)?,
            m.tool.unit(),
            row.tolerance,
            &row.note,
        ))
    });
    call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
}

/// Volts along the loop of two drives: at rest, at the surge peak, at the end of a hold of 2 s.
///
/// Args:
///     healthy: a drive.
///     faulty: the same with a fault.
///     direction: "forward" or "reverse".
///
/// Returns:
///     A :class:`Comparison <stallpoint.Comparison>`.
///
/// Raises:
///     SolveError: a start that cannot be solved.
#[pyfunction]
#[pyo3(signature = (healthy, faulty, direction="forward"))]
pub fn compare<'py>(py: Python<'py>, healthy: &Drive, faulty: &Drive, direction: &str) -> PyResult<Bound<'py, PyAny>> {
    let way = self::direction(py, direction)?;
    let (one, other) = (healthy.0.clone(), faulty.0.clone());
    let made = detached(py, || faultfinding::compare(&one, &other, way))?;
    call(py, "faults", "Comparison", (made.points, made.moments.to_vec(), made.healthy.to_vec(), made.faulty.to_vec()))
}

/// A document as text, Markdown and HTML.
pub fn document<'py>(py: Python<'py>, document: &Document) -> PyResult<Bound<'py, PyAny>> {
    call(py, "faults", "Report", (document.to_text(), document.to_markdown(), document.to_html()))
}

/// The measurement of a call from Python.
pub fn measurement(py: Python, plus: &str, minus: &str, control: &str, instrument: &str) -> PyResult<Measurement> {
    let held = control.parse::<Held>().or_raise(py)?;
    let tool = instrument.parse::<Tool>().or_raise(py)?;
    Ok(Measurement::between(tool, held, plus, minus))
}

/// A reading from Python: a number in SI, a text with a unit, or a word.
pub fn observed(tool: Tool, reading: &Bound<'_, PyAny>) -> PyResult<Observed> {
    if let Ok(text) = reading.extract::<String>()
        && (!tool.words().is_empty() || ["open", "live"].contains(&text.as_str()))
    {
        return Ok(Observed::Word(text));
    }
    Ok(Observed::Number(match tool.unit() {
        "A" => quantity::<Current>(reading, "reading")?.si(),
        "ohm" => quantity::<Resistance>(reading, "reading")?.si(),
        _ => quantity::<Voltage>(reading, "reading")?.si(),
    }))
}

/// Finds the fault of a drive from readings.
///
/// Every fault of the catalogue is simulated at three severities on ``draws`` drives drawn from their spread. Readings weigh
/// those cases; a fault's probability is the sum over its cases. Faults that no instrument tells apart are one answer. One fault at
/// a time.
///
/// Args:
///     drive: the drive as it should be.
///     draws: drives drawn for each fault and severity.
///     seed: seed of the draws.
///     progress: called with the share done; returning False stops.
///
/// Raises:
///     ArgumentError: a description that cannot be a drive; no draws.
///     CancelledError: ``progress`` stopped it.
#[pyclass(frozen, module = "stallpoint")]
pub struct FaultFinder(Mutex<faultfinding::FaultFinder>);

impl FaultFinder {
    fn lock(&self) -> MutexGuard<'_, faultfinding::FaultFinder> {
        // A panic while it was held leaves values that are whole.
        self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

#[pymethods]
impl FaultFinder {
    /// Simulates every fault of the drive's catalogue.
    #[new]
    #[pyo3(signature = (drive, *, draws=8, seed=1, progress=None))]
    fn new(py: Python, drive: &Drive, draws: usize, seed: u64, progress: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let options = TableOptions { draws, seed, ..TableOptions::default() };
        let own = drive.0.clone();
        let table = long_call(py, progress, |watcher| FaultTable::build(&own, &options, watcher))?;
        Ok(Self(Mutex::new(faultfinding::FaultFinder::on(Arc::new(table)))))
    }

    /// Points at which a probe may be put.
    #[getter]
    fn points(&self) -> Vec<String> {
        self.lock().table().points().to_vec()
    }

    /// The measurement that tells most per minute and danger, or None when the fault is found or nothing tells more.
    fn next_test<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let next = detached(py, || self.lock().next_test(&StopRule::default()))?;
        let Some(NextTest { measurement: m, bits, cost, why, caution }) = next else { return Ok(None) };
        let (tool, held) = (m.tool.name(), m.held.name());
        let fields = (&m.plus, &m.minus, held, tool, bits, cost.minutes, cost.risk, why, caution, m.to_string());
        Ok(Some(call(py, "faults", "NextTest", fields)?))
    }

    /// Enters a reading.
    ///
    /// Args:
    ///     plus: first probe, or the conductor in the clamp; nothing to look or listen.
    ///     minus: second probe.
    ///     control: "at rest", "forward", "reverse" or "isolated".
    ///     instrument: "voltmeter", "low-impedance voltmeter", "test lamp", "ohmmeter", "clamp ammeter", "listen", "watch the motor",
    ///         "watch the breaker".
    ///     reading: a number in SI, a text with a unit, or one of the instrument's words ("bright", "clicks", "stands", "slow forward",
    ///         "open").
    ///
    /// Raises:
    ///     UnknownNameError: there is no such point.
    ///     ArgumentError: a reading that the instrument cannot show.
    ///     ImplausibleReadingError: a reading that no drive of this kind can show. Nothing is entered then.
    #[pyo3(signature = (plus="", minus="", *, control, instrument="voltmeter", reading))]
    fn observe(
        &self,
        py: Python,
        plus: &str,
        minus: &str,
        control: &str,
        instrument: &str,
        reading: &Bound<'_, PyAny>,
    ) -> PyResult<()> {
        let measurement = measurement(py, plus, minus, control, instrument)?;
        let observed = observed(measurement.tool, reading)?;
        self.lock().observe(&measurement, &observed).or_raise(py)
    }

    /// What an instrument shows on a drive of this kind, healthy or not, as its display shows it; arguments as for :meth:`observe`.
    #[pyo3(signature = (drive, plus="", minus="", *, control, instrument="voltmeter"))]
    fn shown<'py>(
        &self,
        py: Python<'py>,
        drive: &Drive,
        plus: &str,
        minus: &str,
        control: &str,
        instrument: &str,
    ) -> PyResult<Bound<'py, PyAny>> {
        let measurement = measurement(py, plus, minus, control, instrument)?;
        plain(py, &self.lock().table().shown(&drive.0, &measurement).or_raise(py)?)
    }

    /// Faults (:class:`Ranked <stallpoint.Ranked>`), the most probable first, with what would tell each from the next; faults that no
    /// instrument tells apart in one row.
    fn ranking<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let ranking = py.detach(|| self.lock().ranking());
        let class = named(py, "faults", "Ranked")?;
        let rows = ranking.into_iter().map(|row| {
            let fault = row.fault.map(|fault| Py::new(py, Fault(fault))).transpose()?;
            let told = row.told_by.map(|told| {
                let unit = told.measurement.tool.unit();
                format!("{}: {} {unit} against {} {unit}", told.measurement, told.shows[0], told.shows[1])
            });
            let others = row.others.into_iter().map(|fault| Py::new(py, Fault(fault))).collect::<PyResult<Vec<_>>>()?;
            class.call1((fault, row.probability, row.words, row.section, told, PyTuple::new(py, others)?, row.hazard))
        });
        call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
    }

    /// Why, in plain words: "supply good, ground good, signals good: contactor". Good is what readings have tested; what they have
    /// not is said to be not tested.
    fn reason(&self, py: Python) -> String {
        py.detach(|| self.lock().reason())
    }

    /// Readings that no fault explains: the words, and the index of the reading most likely wrong; None without.
    fn contradiction(&self, py: Python) -> Option<(String, usize)> {
        py.detach(|| self.lock().contradiction()).map(|found| (found.words, found.suspect))
    }

    /// Takes back the reading of this index.
    fn forget(&self, py: Python, index: usize) -> PyResult<()> {
        self.lock().forget(index).or_raise(py)
    }

    /// Forgets all readings.
    fn reset(&self) {
        self.lock().reset();
    }

    /// The steps of common practice (:class:`ProcedureStep <stallpoint.ProcedureStep>`): what each tests, the healthy value, published
    /// limits, what other values mean, and its caution.
    fn steps<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let steps = detached(py, || self.lock().steps())?;
        let (class, meaning) = (named(py, "faults", "ProcedureStep")?, named(py, "faults", "Meaning")?);
        let rows = steps.into_iter().map(|step| {
            let m = &step.measurement;
            let meanings = step.meanings.iter().map(|own| {
                let shows = own.shows.iter().map(|shown| plain(py, shown)).collect::<PyResult<Vec<_>>>()?;
                meaning.call1((
                    PyTuple::new(py, shows)?,
                    PyTuple::new(py, &own.faults)?,
                    PyTuple::new(py, &own.hazards)?,
                ))
            });
            let meanings = PyTuple::new(py, meanings.collect::<PyResult<Vec<_>>>()?)?;
            let fields = PyDict::new(py);
            fields.set_item("title", &step.title)?;
            fields.set_item("instrument", m.tool.name())?;
            fields.set_item("plus", &m.plus)?;
            fields.set_item("minus", &m.minus)?;
            fields.set_item("control", m.held.name())?;
            fields.set_item("tests", PyTuple::new(py, &step.tests)?)?;
            fields.set_item("healthy", plain(py, &step.healthy)?)?;
            fields.set_item("tolerance", step.tolerance)?;
            fields.set_item("unit", m.tool.unit())?;
            fields.set_item("limits", PyTuple::new(py, &step.limits)?)?;
            fields.set_item("meanings", meanings)?;
            fields.set_item("caution", &step.caution)?;
            class.call((), Some(&fields))
        });
        call(py, "faults", "Rows", (rows.collect::<PyResult<Vec<_>>>()?,))
    }

    /// The procedure of common practice: text, Markdown, HTML.
    fn procedure<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let made = detached(py, || self.lock().procedure())?;
        document(py, &made)
    }

    fn __repr__(&self) -> String {
        let finder = self.lock();
        format!("<FaultFinder of \"{}\", {} readings>", finder.table().drive().name, finder.readings().len())
    }
}
