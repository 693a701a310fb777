//! Readings that no drive of this kind can show.

use super::column::Column;
use super::measurement::{Measurement, Observed, Tool};
use super::table::FaultTable;
use crate::error::Error;
use crate::report::quantity;

/// Highest voltage that a charger leaves on a battery, over its nominal one (16.2 V for 12 V: typical, no source).
const CHARGED: f64 = 1.35;
/// Room above what the table's cases show.
const ROOM: f64 = 1.5;

/// Refuses a number that is beyond anything the drive can show: more than its charged battery, than a dead short.
pub(super) fn refuse(
    table: &FaultTable,
    measurement: &Measurement,
    column: &Column,
    observed: &Observed,
) -> Result<(), Error> {
    let tool = measurement.tool;
    let Observed::Number(value) = *observed else { return Ok(()) };
    let bound = match tool {
        Tool::Voltmeter | Tool::LowImpedance => CHARGED * table.bench.nominal,
        Tool::Clamp => table.bench.short_circuit.unwrap_or(0.0),
        // An ohmmeter may show anything up to "open".
        _ => return Ok(()),
    };
    let largest = bound.max(ROOM * column.largest);
    if value.abs() <= largest {
        return Ok(());
    }
    let unit = tool.unit();
    let hint = match value / 1000.0 {
        small if small.abs() <= largest => {
            format!("; {} m{unit} would be {}", crate::report::number(value), quantity(small, unit))
        }
        _ => String::new(),
    };
    Err(Error::ImplausibleReading { measurement: measurement.to_string(), reading: value, largest, unit, hint })
}
