//! Ohmmeter.

use super::attach::{between, without};
use super::error::InstrumentError;
use super::reading::{Reading, Word};
use crate::circuit::Circuit;
use crate::error::Error;
use crate::parts::{Resistor, VoltageSource};
use crate::quantity::{Current, Resistance, Voltage};

/// An ohmmeter: a small test voltage behind a resistance that limits its current; it refuses a live circuit.
///
/// `R = (v - v_without) / i`, with the meter in the circuit and everything else that lies beside the part measured.
///
/// Limits: no range switching, no lead resistance.
///
/// Source: defaults of 2 V, 1 mA, 40 Mohm and 50 mV: typical, no source.
///
/// # Example
/// ```
/// use stallpoint::circuit::Circuit;
/// use stallpoint::instruments::Ohmmeter;
/// use stallpoint::parts::Resistor;
///
/// let mut circuit = Circuit::new();
/// circuit.add("joint", Resistor::new("4.7 ohm")?, [("a", "stud"), ("b", "ground")])?;
/// let reading = Ohmmeter::default().read(&circuit, "stud", "ground")?;
/// assert!((reading.value - 4.7).abs() < 1e-9);
/// # Ok::<(), stallpoint::instruments::InstrumentError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ohmmeter {
    /// Voltage at its open leads, V.
    pub test_voltage: Voltage,
    /// Current through its shorted leads, A.
    pub test_current: Current,
    /// Resistance above which it shows "open".
    pub largest: Resistance,
    /// Voltage at which it refuses, either sign.
    pub live_above: Voltage,
}

/// Names of the meter's node and parts in the circuit.
const LEAD: &str = "lead of the ohmmeter";
const CELL: &str = "cell of the ohmmeter";
const LIMIT: &str = "limit of the ohmmeter";

impl Default for Ohmmeter {
    fn default() -> Self {
        Self {
            test_voltage: Voltage::from_si(2.0),
            test_current: Current::from_si(1e-3),
            largest: Resistance::from_si(40e6),
            live_above: Voltage::from_si(0.05),
        }
    }
}

impl Ohmmeter {
    /// Resistance between two nodes, ohm.
    ///
    /// # Errors
    /// [`InstrumentError::Live`] where there is a voltage without the meter; settings that are not above zero; no such node;
    /// a circuit that does not solve.
    pub fn read(&self, circuit: &Circuit, plus: &str, minus: &str) -> Result<Reading, InstrumentError> {
        let settings = [self.test_voltage.si(), self.test_current.si(), self.largest.si(), self.live_above.si()];
        if let Some(bad) = settings.iter().find(|value| !(**value > 0.0)) {
            return Err(Error::option("ohmmeter", &bad.to_string(), "set to values above zero").into());
        }
        let voltage = without(circuit, plus, minus)?;
        if voltage.abs() > self.live_above.si() {
            return Err(InstrumentError::Live { plus: plus.into(), minus: minus.into(), voltage });
        }
        // A cell on the second node, a resistor that limits the current from it to the first.
        let inside = self.test_voltage.si() / self.test_current.si();
        let (cell, limit) = (VoltageSource::constant(self.test_voltage)?, Resistance::from_si(inside));
        let mut measured = circuit.clone();
        measured.add(CELL, cell, [("plus", LEAD), ("minus", minus)])?;
        measured.add(LIMIT, Resistor { resistance: limit }, [("a", LEAD), ("b", plus)])?;
        let op = measured.operating_point()?;
        let shown = between(&op, plus, minus)?;
        let current = op.current(LIMIT)?;
        let ohms = (shown - voltage) / current;
        // No current that counts, or a circuit that pushes back.
        if !(current > 0.0) || !(ohms < self.largest.si()) {
            return Ok(Reading { value: f64::INFINITY, unit: "ohm", word: Some(Word::Open) });
        }
        Ok(Reading { value: ohms, unit: "ohm", word: None })
    }
}
