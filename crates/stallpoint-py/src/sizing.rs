//! Sizing: search, corners, Monte Carlo, sensitivities.

use std::sync::{Arc, Mutex};

use numpy::IntoPyArray;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};
use stallpoint::quantity::Time;
use stallpoint::report::{Check, Side};
use stallpoint::studies::sizing::{
    self, Case, Choice, Corner, Distribution, MonteCarloOptions, Outcome, Requirements, Row, Rule, SizingOptions,
    Tolerance, WorstDay,
};
use stallpoint::studies::sweep::Measure;

use crate::convert::{description, quantity};
use crate::drive::{Drive, direction};
use crate::errors::{OrRaise, bad_argument};
use crate::long_call::long_call;
use crate::python::named;
use crate::study::record;

/// Units that a requirement of the user's own may have.
const UNITS: [&str; 13] = ["1", "A", "V", "s", "ohm", "W", "J", "N m", "rad/s", "A2 s", "degC", "K", "kg"];

type PyValues<'py> = Vec<(String, Bound<'py, PyAny>)>;
type PyRow<'py> = (String, PyValues<'py>, Option<f64>, Option<f64>);

fn values(values: &PyValues) -> PyResult<Vec<(String, serde_json::Value)>> {
    values.iter().map(|(key, value)| Ok((key.clone(), description(value, key)?))).collect()
}

fn corners(given: &[(String, PyValues)]) -> PyResult<Vec<Corner>> {
    given.iter().map(|(name, own)| Ok(Corner { name: name.clone(), values: values(own)? })).collect()
}

fn choices(given: &[(String, Vec<PyRow>)]) -> PyResult<Vec<Choice>> {
    let row = |(name, own, price, mass): &PyRow| -> PyResult<Row> {
        Ok(Row { name: name.clone(), values: values(own)?, price: *price, mass: *mass })
    };
    let choice = |(name, rows): &(String, Vec<PyRow>)| -> PyResult<Choice> {
        Ok(Choice { name: name.clone(), rows: rows.iter().map(row).collect::<PyResult<_>>()? })
    };
    given.iter().map(choice).collect()
}

/// Name, keys, and either the two ends or mean and deviation.
type PyTolerance<'py> = (String, Vec<String>, String, Bound<'py, PyAny>, Bound<'py, PyAny>);

fn tolerances(given: &[PyTolerance]) -> PyResult<Vec<Tolerance>> {
    let one = |(name, keys, kind, first, second): &PyTolerance| -> PyResult<Tolerance> {
        let (first, second) = (description(first, name)?, description(second, name)?);
        let distribution = match kind.as_str() {
            "normal" => Distribution::Normal { mean: first, deviation: second },
            _ => Distribution::Interval { low: first, high: second },
        };
        Ok(Tolerance { name: name.clone(), keys: keys.clone(), distribution })
    };
    given.iter().map(one).collect()
}

/// The first exception that a requirement of the user's own raised.
type Raised = Arc<Mutex<Option<PyErr>>>;

/// A Python function as a requirement: it gets the drive and a dict of figures and returns a dict or several.
fn own(function: Py<PyAny>, raised: Raised) -> impl Fn(&Case) -> Vec<Check> + Send + Sync + 'static {
    move |case| {
        Python::attach(|py| match ask(py, &function, case) {
            Ok(checks) => checks,
            Err(error) => {
                if let Ok(mut slot) = raised.lock() {
                    slot.get_or_insert(error);
                }
                Vec::new()
            }
        })
    }
}

fn ask(py: Python, function: &Py<PyAny>, case: &Case) -> PyResult<Vec<Check>> {
    let answer = function.bind(py).call1((Drive::of(case.drive.clone()), figures(py, case)?))?;
    match answer.cast::<PyDict>() {
        Ok(one) => Ok(vec![check(one)?]),
        Err(_) => answer.try_iter()?.map(|one| check(one?.cast::<PyDict>()?)).collect(),
    }
}

fn check(one: &Bound<'_, PyDict>) -> PyResult<Check> {
    let py = one.py();
    let text = |name: &str| -> PyResult<String> {
        one.get_item(name)?.ok_or_else(|| bad_argument(py, name, "left out", "given"))?.extract()
    };
    let maybe = |name: &str| -> PyResult<Option<f64>> { one.get_item(name)?.map_or(Ok(None), |value| value.extract()) };
    let given = text("unit")?;
    let unit = UNITS.into_iter().find(|unit| *unit == given);
    let unit = unit.ok_or_else(|| bad_argument(py, "unit", &given, &format!("one of {}", UNITS.join(", "))))?;
    let side = if text("side")? == "at least" { Side::AtLeast } else { Side::AtMost };
    let (requirement, basis, when) = (text("requirement")?, text("basis")?, text("when")?);
    let check = match (maybe("value")?, maybe("limit")?) {
        (Some(value), Some(limit)) => Check::against(requirement, value, side, limit, unit, basis, when),
        (value, _) => Check::missing(requirement, value, unit, basis, when),
    };
    Ok(check.keyed(text("key")?))
}

/// The figures of a case, for a requirement of the user's own.
fn figures<'py>(py: Python<'py>, case: &Case) -> PyResult<Bound<'py, PyDict>> {
    let facts = &case.evidence.facts;
    let all = PyDict::new(py);
    for ((own, locked), trips) in facts.directions.iter().zip(&case.evidence.statics.locked).zip(case.trips) {
        let one = PyDict::new(py);
        one.set_item("time_to_speed", own.time_to_speed)?;
        one.set_item("surge_i2t", own.surge_i2t)?;
        one.set_item("breaker_at_end", own.breaker_at_end)?;
        one.set_item("motor_at_end", own.motor_at_end)?;
        one.set_item("breaker_peak", own.breaker_peak.value)?;
        one.set_item("motor_peak", own.motor_peak.value)?;
        one.set_item("locked_peak", own.locked_peak.value)?;
        one.set_item("locked_torque", locked.torque)?;
        one.set_item("lowest_battery_voltage", own.supply.sag.value)?;
        one.set_item("highest_battery_voltage", own.supply.highest.value)?;
        one.set_item("charging_current", own.supply.charging.value)?;
        one.set_item("lowest_coil_voltage", own.holding.as_ref().map(|found| found.value))?;
        one.set_item("trip_fraction", trips.cold.start.fastest)?;
        one.set_item("held", own.held.to_string())?;
        let volts = PyDict::new(py);
        for drop in &own.volts_at_end.drops {
            volts.set_item(&drop.element, drop.volts)?;
        }
        one.set_item("volts", volts)?;
        all.set_item(own.direction.to_string(), one)?;
    }
    all.set_item("fault_current", facts.fault_current)?;
    Ok(all)
}

fn rule(py: Python, given: &str) -> PyResult<Rule> {
    match given {
        "least_cost" => Ok(Rule::LeastCost),
        "least_copper" => Ok(Rule::LeastCopper),
        "largest_margin" => Ok(Rule::LargestMargin),
        _ => Err(bad_argument(
            py,
            "rule",
            &format!("\"{given}\""),
            "\"least_cost\", \"least_copper\" or \"largest_margin\"",
        )),
    }
}

fn options(
    py: Python,
    without: Vec<String>,
    own_requirements: Vec<Py<PyAny>>,
    hold: Option<&Bound<'_, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
) -> PyResult<(SizingOptions, Raised)> {
    let mut options = SizingOptions { threads, ..SizingOptions::default() };
    if let Some(hold) = hold {
        options.surge.hold = quantity::<Time>(hold, "hold")?.si();
        if !(options.surge.hold > 0.0) {
            return Err(bad_argument(py, "hold", &hold.to_string(), "above 0 s"));
        }
    }
    options.surge.transient.rtol = rtol;
    let raised = Raised::default();
    let mut requirements = without.into_iter().fold(Requirements::default(), Requirements::without);
    for function in own_requirements {
        requirements = requirements.with(own(function, raised.clone()));
    }
    options.requirements = requirements;
    Ok((options, raised))
}

/// Raises what a requirement of the user's own raised.
fn told(raised: &Raised) -> PyResult<()> {
    match raised.lock().ok().and_then(|mut slot| slot.take()) {
        Some(error) => Err(error),
        None => Ok(()),
    }
}

/// Tries every combination of the choices in every corner.
#[pyfunction]
#[pyo3(signature = (drive, choices, corners, without, requirements, rule, *, hold=None, bounds=false, rtol=1e-4, threads=None, progress=None))]
pub fn size_outcome<'py>(
    py: Python<'py>,
    drive: &Drive,
    choices: Vec<(String, Vec<PyRow<'py>>)>,
    corners: Vec<(String, PyValues<'py>)>,
    without: Vec<String>,
    requirements: Vec<Py<PyAny>>,
    rule: &str,
    hold: Option<&Bound<'py, PyAny>>,
    bounds: bool,
    rtol: f64,
    threads: Option<usize>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let choices = self::choices(&choices)?;
    let (mut options, raised) = options(py, without, requirements, hold, rtol, threads)?;
    options.corners = self::corners(&corners)?;
    (options.rule, options.bounds) = (self::rule(py, rule)?, bounds);
    let drive = drive.0.clone();
    let found = long_call(py, progress, |watcher| sizing::size_with(&drive, &choices, &options, watcher));
    told(&raised)?;
    outcome(py, &found?)
}

fn outcome<'py>(py: Python<'py>, found: &Outcome) -> PyResult<Bound<'py, PyAny>> {
    let class = named(py, "sizing", "Candidate")?;
    let list = named(py, "records", "CheckList")?;
    let candidates = PyList::empty(py);
    for candidate in &found.candidates {
        let fields = PyDict::new(py);
        let chosen = PyDict::new(py);
        for (choice, name) in found.choices.iter().zip(&candidate.names) {
            chosen.set_item(choice, name)?;
        }
        fields.set_item("chosen", chosen)?;
        fields.set_item("state", candidate.state.to_string())?;
        fields.set_item("price", candidate.price)?;
        fields.set_item("mass", candidate.mass)?;
        fields.set_item("margin", candidate.margin)?;
        let checks = candidate.checks.iter().map(|check| record(py, check)).collect::<PyResult<Vec<_>>>()?;
        fields.set_item("checks", list.call1((checks,))?)?;
        fields.set_item("reasons", candidate.reasons())?;
        candidates.append(class.call((), Some(&fields))?)?;
    }
    let fields = PyDict::new(py);
    fields.set_item("candidates", candidates)?;
    fields.set_item("pareto", &found.pareto)?;
    fields.set_item("best", found.best)?;
    fields.set_item("rule", found.rule.to_string())?;
    fields.set_item("summary", found.summary())?;
    fields.set_item("notes", &found.notes)?;
    fields.set_item("cases", found.cases)?;
    fields.set_item("circuits", found.circuits)?;
    fields.set_item("transients", found.transients)?;
    named(py, "sizing", "Options")?.call((), Some(&fields))
}

fn corner_values<'py>(py: Python<'py>, corner: &Corner) -> PyResult<Bound<'py, PyDict>> {
    let values = PyDict::new(py);
    for (key, value) in &corner.values {
        match value.as_f64() {
            Some(number) => values.set_item(key, number)?,
            None => values.set_item(key, value.as_str())?,
        }
    }
    Ok(values)
}

/// Every combination of the tolerances' ends.
#[pyfunction]
pub fn all_corners<'py>(
    py: Python<'py>,
    drive: &Drive,
    tolerances: Vec<PyTolerance<'py>>,
) -> PyResult<Bound<'py, PyDict>> {
    let found = Corner::all(&drive.0, &self::tolerances(&tolerances)?).or_raise(py)?;
    let corners = PyDict::new(py);
    for corner in &found {
        corners.set_item(&corner.name, corner_values(py, corner)?)?;
    }
    Ok(corners)
}

/// The corner on which everything is against the drive.
#[pyfunction]
#[pyo3(signature = (drive, *, state_of_charge=None, battery_resistance=None, hot_c=None, joint=None, load=None))]
pub fn worst_day_corner<'py>(
    py: Python<'py>,
    drive: &Drive,
    state_of_charge: Option<f64>,
    battery_resistance: Option<f64>,
    hot_c: Option<f64>,
    joint: Option<f64>,
    load: Option<f64>,
) -> PyResult<Bound<'py, PyDict>> {
    let own = WorstDay::default();
    let day = WorstDay {
        state_of_charge: state_of_charge.unwrap_or(own.state_of_charge),
        battery_resistance: battery_resistance.unwrap_or(own.battery_resistance),
        hot_c: hot_c.unwrap_or(own.hot_c),
        joint: joint.unwrap_or(own.joint),
        load: load.unwrap_or(own.load),
    };
    let corner = day.corner(&drive.0);
    corner.apply(&drive.0).or_raise(py)?;
    let corners = PyDict::new(py);
    corners.set_item(&corner.name, corner_values(py, &corner)?)?;
    Ok(corners)
}

/// The corners in which each requirement is worst, and what sampling says.
#[pyfunction]
#[pyo3(signature = (drive, tolerances, samples, seed, without, requirements, *, hold=None, rtol=1e-4, threads=None, progress=None))]
pub fn find_worst_corners<'py>(
    py: Python<'py>,
    drive: &Drive,
    tolerances: Vec<PyTolerance<'py>>,
    samples: usize,
    seed: u64,
    without: Vec<String>,
    requirements: Vec<Py<PyAny>>,
    hold: Option<&Bound<'py, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let tolerances = self::tolerances(&tolerances)?;
    let (options, raised) = options(py, without, requirements, hold, rtol, threads)?;
    let drive = drive.0.clone();
    let found = long_call(py, progress, |watcher| {
        sizing::worst_corners(&drive, &tolerances, (samples, seed), &options, watcher)
    });
    told(&raised)?;
    let found = found?;
    let corners = PyDict::new(py);
    for corner in &found.corners {
        let name = if corner.name.is_empty() { "as described" } else { &corner.name };
        corners.set_item(name, corner_values(py, corner)?)?;
    }
    let margins = PyDict::new(py);
    for (key, margin) in &found.least_margins {
        margins.set_item(key, margin)?;
    }
    let beyond = PyList::empty(py);
    for (key, margin, corner) in &found.beyond {
        beyond.append((key, margin, corner_values(py, corner)?))?;
    }
    named(py, "tolerances", "WorstCorners")?.call1((corners, margins, found.samples, beyond))
}

fn start_options(
    py: Python,
    direction: &str,
    hold: Option<&Bound<'_, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
) -> PyResult<MonteCarloOptions> {
    let direction = self::direction(py, direction)?;
    let mut options = MonteCarloOptions { direction, threads, ..MonteCarloOptions::default() };
    if let Some(hold) = hold {
        options.hold = quantity::<Time>(hold, "hold")?.si();
    }
    options.transient.rtol = rtol;
    Ok(options)
}

/// Starts a drive many times with its tolerances drawn.
#[pyfunction]
#[pyo3(signature = (drive, tolerances, measure, samples, seed, *, direction="forward", hold=None, rtol=1e-4, threads=None, progress=None))]
pub fn monte_carlo_table<'py>(
    py: Python<'py>,
    drive: &Drive,
    tolerances: Vec<PyTolerance<'py>>,
    measure: Vec<String>,
    samples: usize,
    seed: u64,
    direction: &str,
    hold: Option<&Bound<'py, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let tolerances = self::tolerances(&tolerances)?;
    let options = MonteCarloOptions { samples, seed, ..start_options(py, direction, hold, rtol, threads)? };
    let measures = Measure::list(measure).or_raise(py)?;
    let drive = drive.0.clone();
    let found =
        long_call(py, progress, |watcher| sizing::monte_carlo(&drive, &tolerances, &measures, &options, watcher))?;
    let (draws, values, units) = (PyDict::new(py), PyDict::new(py), PyDict::new(py));
    for (name, column) in found.parameters.into_iter().zip(found.draws) {
        draws.set_item(name, column.into_pyarray(py))?;
    }
    for ((name, unit), column) in found.measures.into_iter().zip(found.values) {
        units.set_item(&name, unit)?;
        values.set_item(name, column.into_pyarray(py))?;
    }
    named(py, "tolerances", "MonteCarlo")?.call1((draws, values, units, found.failures, seed))
}

/// Derivatives of measures to parameters.
#[pyfunction]
#[pyo3(signature = (drive, parameters, measure, *, direction="forward", hold=None, rtol=1e-6, threads=None, progress=None))]
pub fn sensitivity_rows<'py>(
    py: Python<'py>,
    drive: &Drive,
    parameters: Vec<String>,
    measure: Vec<String>,
    direction: &str,
    hold: Option<&Bound<'py, PyAny>>,
    rtol: f64,
    threads: Option<usize>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = start_options(py, direction, hold, rtol, threads)?;
    let measures = Measure::list(measure).or_raise(py)?;
    let drive = drive.0.clone();
    let found =
        long_call(py, progress, |watcher| sizing::sensitivities(&drive, &parameters, &measures, &options, watcher))?;
    let class = named(py, "tolerances", "Sensitivity")?;
    let rows = found.iter().map(|own| {
        let row = (&own.parameter, &own.measure, own.at, own.value, own.derivative, own.elasticity);
        class.call1(row.into_pyobject(py)?.cast_into::<PyTuple>()?)
    });
    named(py, "tolerances", "SensitivityList")?.call1((rows.collect::<PyResult<Vec<_>>>()?,))
}
