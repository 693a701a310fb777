//! Capacitor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Path, Stamp, Terminal, Tie, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{Capacitance, IntoQuantity, Voltage};

/// An ideal capacitor: `i = d/dt (C v)`. States: `current`, `voltage`.
///
/// # Example
/// ```
/// let filter = stallpoint::parts::Capacitor::new("100 uF")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Capacitor {
    /// Capacitance, F, above zero.
    pub capacitance: Capacitance,
    /// Voltage when a transient starts, V.
    #[serde(default)]
    pub initial_voltage: Voltage,
}

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const V: usize = 3;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl Capacitor {
    /// A capacitor without charge.
    ///
    /// # Errors
    /// A wrong unit, or a capacitance that is not above zero.
    pub fn new(capacitance: impl IntoQuantity<Capacitance>) -> Result<Self, Error> {
        let capacitance = super::quantity("capacitance", capacitance)?;
        let capacitor = Self { capacitance, initial_voltage: Voltage::default() };
        capacitor.check()?;
        Ok(capacitor)
    }
}

impl Part for Capacitor {
    fn kind(&self) -> &'static str {
        "capacitor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("capacitance", self.capacitance)
    }

    // The voltage is an unknown of its own so that its initial value survives the first consistent solution.
    fn unknowns(&self) -> Vec<Unknown> {
        let voltage = Unknown { initial: self.initial_voltage.si(), ..Unknown::fast("voltage", "V", 1.0) };
        vec![Unknown::fast("current", "A", 1.0), voltage]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let c = self.capacitance.si();
        super::branch_current(at, out, A, B, I);
        out.f(I, at.x(A) - at.x(B) - at.x(V));
        out.df(I, A, 1.0);
        out.df(I, B, -1.0);
        out.df(I, V, -1.0);
        out.q(V, c * at.x(V));
        out.dq(V, V, c);
        out.f(V, -at.x(I));
        out.df(V, I, -1.0);
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(A, B, Tie::Capacitive)]
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.capacitance.si() * at.x(V) * at.x(V)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
