//! Voltmeter.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::resistor::conduct;
use crate::circuit::{At, Part, Power, Probe, Stamp, Terminal, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Resistance};

/// A voltmeter with its input resistance: `v = R i`; the probe `reading` is the voltage of `plus` to `minus`.
///
/// With 10 Mohm it hardly loads what it measures: behind an ohm, or a thousand, it still reads the full voltage. The
/// low-impedance input draws milliamperes and so does not take leakage for a supply, but a few ohms escape it too: only a lamp
/// or the motor itself loads a bad joint.
///
/// Limits: no error of its own, no range, no averaging.
///
/// Source: 10 Mohm is what digital multimeters usually have, 3 kohm what their low-impedance inputs have (typical, no source).
///
/// # Example
/// ```
/// use stallpoint::parts::Voltmeter;
///
/// let low_impedance = Voltmeter::new("400 kohm")?;
/// assert_eq!(Voltmeter::default().input_resistance.si(), 1e7);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Voltmeter {
    /// Input resistance, ohm.
    pub input_resistance: Resistance,
}

impl Default for Voltmeter {
    fn default() -> Self {
        Self { input_resistance: Resistance::from_si(1e7) } // typical, no source
    }
}

const PLUS: usize = 0;
const MINUS: usize = 1;
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];
const PROBES: [Probe; 1] = [Probe { name: "reading", unit: "V" }];

impl Voltmeter {
    /// A voltmeter with a low-impedance input of 3 kohm (typical, no source).
    pub fn low_impedance() -> Self {
        Self { input_resistance: Resistance::from_si(3e3) }
    }

    /// A voltmeter of another input resistance.
    ///
    /// # Errors
    /// A wrong unit; a resistance that is not above zero.
    pub fn new(input_resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        let meter = Self { input_resistance: super::quantity("input_resistance", input_resistance)? };
        meter.check()?;
        Ok(meter)
    }
}

impl Part for Voltmeter {
    fn kind(&self) -> &'static str {
        "voltmeter"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("input_resistance", self.input_resistance)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        conduct(at, out, PLUS, MINUS, 1.0 / self.input_resistance.si());
    }

    fn power(&self, at: &At) -> Power {
        let v = at.x(PLUS) - at.x(MINUS);
        Power { delivered: 0.0, dissipated: v * v / self.input_resistance.si() }
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        at.x(PLUS) - at.x(MINUS)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
