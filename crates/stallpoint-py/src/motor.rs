//! Motors from data sheets, and which swaps of wires reverse them.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::parts::motor::{DataSheet, Motor, MotorConstants, RatedPoint, Swap};
use stallpoint::quantity::{Inductance, Inertia, Quantity};

use crate::convert::{described, description, quantity, read};
use crate::errors::{OrRaise, bad_argument};
use crate::python::named;

/// A motor's parameters as a file holds them, every number of its sheet beside its own, torque over back-EMF constant.
type Fitted<'py> = (Bound<'py, PyAny>, Vec<Bound<'py, PyAny>>, f64);

/// A permanent-magnet motor fitted to the points of a data sheet.
#[pyfunction]
pub fn fit_motor<'py>(sheet: &Bound<'py, PyDict>, equal_constants: bool) -> PyResult<Fitted<'py>> {
    let py = sheet.py();
    let rated = match sheet.get_item("rated_torque")? {
        None => None,
        Some(_) => Some(RatedPoint {
            torque: given(sheet, "rated_torque")?,
            speed: given(sheet, "rated_speed")?,
            current: given(sheet, "rated_current")?,
        }),
    };
    let points = DataSheet {
        voltage: given(sheet, "voltage")?,
        no_load_speed: given(sheet, "no_load_speed")?,
        no_load_current: given(sheet, "no_load_current")?,
        stall_torque: given(sheet, "stall_torque")?,
        stall_current: given(sheet, "stall_current")?,
        rated,
        brush_drop: given(sheet, "brush_drop")?,
    };
    let (inductance, inertia) = (given::<Inductance>(sheet, "inductance")?, given::<Inertia>(sheet, "inertia")?);
    let constants = if equal_constants { MotorConstants::Equal } else { MotorConstants::Separate };
    let fitted = PermanentMagnetMotor::from_data_sheet(&points, inductance, inertia, constants).or_raise(py)?;
    let class = named(py, "records", "Misfit")?;
    let misfits = fitted.misfits.iter().map(|m| class.call1((m.quantity, m.unit, m.given, m.fitted)));
    let misfits = misfits.collect::<PyResult<_>>()?;
    Ok((described(py, &fitted.motor)?, misfits, fitted.ratio_of_constants()))
}

/// A quantity of the sheet; the package puts every name there.
fn given<Q: Quantity>(sheet: &Bound<'_, PyDict>, name: &str) -> PyResult<Q> {
    let value = sheet.get_item(name)?.filter(|value| !value.is_none());
    quantity(&value.ok_or_else(|| bad_argument(sheet.py(), name, "missing", "given"))?, name)
}

/// Names of the swaps.
const SWAPS: [(&str, Swap); 4] = [
    ("motor_wires", Swap::MotorWires),
    ("signal_wires", Swap::SignalWires),
    ("motor_and_signal_wires", Swap::MotorAndSignalWires),
    ("supply_and_ground", Swap::SupplyAndGround),
];

/// A swap by its name.
pub fn swap(py: Python, name: &str) -> PyResult<Swap> {
    SWAPS.iter().find(|(known, _)| *known == name).map(|(_, swap)| *swap).ok_or_else(|| {
        let known = SWAPS.map(|(known, _)| format!("\"{known}\"")).join(", ");
        bad_argument(py, "swap", &format!("\"{name}\""), &format!("one of {known}"))
    })
}

/// Whether a swap of wires reverses a motor that is described as in a drive's file.
#[pyfunction]
pub fn motor_reverses_on(motor: &Bound<'_, PyDict>, swap: &str) -> PyResult<bool> {
    let py = motor.py();
    let own: Motor = read(py, "motor", description(motor, "")?)?;
    Ok(own.reverses_on(self::swap(py, swap)?))
}
