//! Test lamp.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::resistor::conduct;
use crate::circuit::{At, Part, Power as PartPower, Probe, Stamp, Terminal, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Power, Voltage};

/// A test lamp of stated volts and watts: `v = R i` with `R = V² / P` of its rating.
///
/// Probes: `power` (W).
///
/// Limits: the resistance is that of the hot filament at the rated point. A real filament is several times lower when
/// cold, so at low voltage it draws more, and loads a bad joint more, than this says.
///
/// Source: the definition of a rating.
///
/// # Example
/// ```
/// use stallpoint::parts::TestLamp;
///
/// let lamp = TestLamp::new("12 V", "21 W")?;
/// assert!((lamp.resistance() - 144.0 / 21.0).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestLamp {
    /// Rated voltage, V.
    pub rated_voltage: Voltage,
    /// Power at the rated voltage, W.
    pub rated_power: Power,
}

const A: usize = 0;
const B: usize = 1;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const PROBES: [Probe; 1] = [Probe { name: "power", unit: "W" }];

impl TestLamp {
    /// A lamp by its rating.
    ///
    /// # Errors
    /// A wrong unit; a rating that is not above zero.
    pub fn new(
        rated_voltage: impl IntoQuantity<Voltage>,
        rated_power: impl IntoQuantity<Power>,
    ) -> Result<Self, Error> {
        let lamp = Self {
            rated_voltage: super::quantity("rated_voltage", rated_voltage)?,
            rated_power: super::quantity("rated_power", rated_power)?,
        };
        lamp.check()?;
        Ok(lamp)
    }

    /// Resistance at the rated point, ohm.
    pub fn resistance(&self) -> f64 {
        self.rated_voltage.si() * self.rated_voltage.si() / self.rated_power.si()
    }

    fn heat(&self, at: &At) -> f64 {
        let v = at.x(A) - at.x(B);
        v * v / self.resistance()
    }
}

impl Part for TestLamp {
    fn kind(&self) -> &'static str {
        "test lamp"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("rated_voltage", self.rated_voltage)?;
        super::above_zero("rated_power", self.rated_power)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        conduct(at, out, A, B, 1.0 / self.resistance());
    }

    fn power(&self, at: &At) -> PartPower {
        PartPower { delivered: 0.0, dissipated: self.heat(at) }
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        self.heat(at)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
