//! Resistor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Power, Stamp, Terminal, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Resistance};

/// A resistor: `v = R i`.
///
/// # Example
/// ```
/// let joint = stallpoint::parts::Resistor::new("30 mohm")?;
/// assert_eq!(joint.resistance.si(), 0.03);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Resistor {
    /// Resistance, ohm, above zero.
    pub resistance: Resistance,
}

const A: usize = 0;
const B: usize = 1;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl Resistor {
    /// A resistor of `resistance` (ohm, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit, or a resistance that is not above zero.
    pub fn new(resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        let resistor = Self { resistance: super::quantity("resistance", resistance)? };
        resistor.check()?;
        Ok(resistor)
    }
}

/// Adds the equations of a resistance between local values `a` and `b`.
pub(crate) fn conduct(at: &At, out: &mut Stamp, a: usize, b: usize, conductance: f64) {
    let current = conductance * (at.x(a) - at.x(b));
    out.f(a, current);
    out.f(b, -current);
    out.df(a, a, conductance);
    out.df(a, b, -conductance);
    out.df(b, a, -conductance);
    out.df(b, b, conductance);
}

impl Part for Resistor {
    fn kind(&self) -> &'static str {
        "resistor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("resistance", self.resistance)
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        conduct(at, out, A, B, 1.0 / self.resistance.si());
    }

    fn power(&self, at: &At) -> Power {
        let v = at.x(A) - at.x(B);
        Power { delivered: 0.0, dissipated: v * v / self.resistance.si() }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
