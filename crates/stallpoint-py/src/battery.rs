//! Batteries from measured discharges.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::parts::{Battery, DischargePoint};
use stallpoint::quantity::{Charge, Current, Voltage};

use crate::convert::{described, description, numbers, read};
use crate::errors::{OrRaise, bad_argument};

/// A battery's parameters as a file holds them, and its voltages at the points.
type Fitted<'py> = (Bound<'py, PyAny>, Vec<f64>);

/// A battery fitted to points of measured discharges.
#[pyfunction]
pub fn fit_discharges<'py>(
    battery: &Bound<'py, PyDict>,
    current: &Bound<'py, PyAny>,
    taken: &Bound<'py, PyAny>,
    voltage: &Bound<'py, PyAny>,
    pieces: usize,
) -> PyResult<Fitted<'py>> {
    let py = battery.py();
    let template: Battery = read(py, "battery", description(battery, "")?)?;
    let (amperes, coulombs) = (numbers(current, "current")?, numbers(taken, "taken")?);
    let volts = numbers(voltage, "voltage")?;
    for (name, length) in [("taken", coulombs.len()), ("voltage", volts.len())] {
        if length != amperes.len() {
            let given = format!("{length} numbers");
            return Err(bad_argument(py, name, &given, &format!("as long as current, {} numbers", amperes.len())));
        }
    }
    let points: Vec<DischargePoint> = amperes
        .iter()
        .zip(&coulombs)
        .zip(&volts)
        .map(|((&current, &taken), &voltage)| DischargePoint {
            current: Current::from_si(current),
            taken: Charge::from_si(taken),
            voltage: Voltage::from_si(voltage),
        })
        .collect();
    let fitted = template.fit_discharges(&points, pieces).or_raise(py)?;
    let volts = fitted.misfits.iter().map(|misfit| misfit.fitted.si()).collect();
    Ok((described(py, &fitted.battery)?, volts))
}
