//! An instrument of any kind with two probes.

use super::attach::{with_part, without};
use super::error::InstrumentError;
use super::ohmmeter::Ohmmeter;
use super::reading::{Reading, Word};
use crate::circuit::Circuit;
use crate::drive::{Control, Direction, Drive};
use crate::parts::{TestLamp, Voltmeter};

/// An instrument with two probes.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::instruments::Instrument;
/// use stallpoint::parts::{TestLamp, Voltmeter};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let volts = drive.measure(&Instrument::Voltmeter(Voltmeter::default()), "supply_stud", "ground_stud", None)?;
/// assert!(volts.value > 12.0 && volts.unit == "V");
/// let lamp = drive.measure(&Instrument::TestLamp(TestLamp::new("12 V", "21 W")?), "supply_stud", "ground_stud", None)?;
/// assert_eq!(lamp.word.unwrap().to_string(), "bright");
/// # Ok::<(), stallpoint::instruments::InstrumentError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub enum Instrument {
    /// Volts of the first probe to the second.
    Voltmeter(Voltmeter),
    /// Watts taken, and how bright.
    TestLamp(TestLamp),
    /// Ohms, on a circuit without voltage there.
    Ohmmeter(Ohmmeter),
}

impl Instrument {
    /// What it shows between two nodes at the circuit's operating point, with the instrument in the circuit.
    ///
    /// # Errors
    /// [`InstrumentError::AboveRating`] where the voltage without the lamp is above what it may be put on;
    /// [`InstrumentError::Live`] for an ohmmeter on a voltage; no such node; a circuit without an operating point.
    pub fn read(&self, circuit: &Circuit, plus: &str, minus: &str) -> Result<Reading, InstrumentError> {
        match self {
            Self::Voltmeter(meter) => {
                let (measured, name) = with_part(circuit, Box::new(meter.clone()), [("plus", plus), ("minus", minus)])?;
                let value = measured.operating_point()?.state(&name, "reading")?;
                Ok(Reading { value, unit: "V", word: None })
            }
            Self::TestLamp(lamp) => {
                let voltage = without(circuit, plus, minus)?;
                if voltage.abs() > lamp.highest() {
                    return Err(InstrumentError::AboveRating {
                        plus: plus.into(),
                        minus: minus.into(),
                        rated: lamp.rated_voltage.si(),
                        highest: lamp.highest(),
                        voltage,
                    });
                }
                let (measured, name) = with_part(circuit, Box::new(lamp.clone()), [("a", plus), ("b", minus)])?;
                let op = measured.operating_point()?;
                let brightness = lamp.brightness_at(op.state(&name, "filament_temperature")?);
                let value = op.state(&name, "power")?;
                Ok(Reading { value, unit: "W", word: Some(Word::Brightness(brightness)) })
            }
            Self::Ohmmeter(meter) => meter.read(circuit, plus, minus),
        }
    }
}

impl Drive {
    /// What an instrument shows between two points of the drive, with the control held in a direction or at rest, once all
    /// has settled: charge and temperatures as described, the shaft started from rest.
    ///
    /// # Errors
    /// As for [`Instrument::read`]; a contactor that chatters has no operating point.
    pub fn measure(
        &self,
        instrument: &Instrument,
        plus: &str,
        minus: &str,
        held: Option<Direction>,
    ) -> Result<Reading, InstrumentError> {
        let control = match held {
            Some(direction) => Control::new().call(direction, 0.0, f64::MAX)?,
            None => Control::new(),
        };
        instrument.read(&self.circuit(&control)?, plus, minus)
    }
}
