//! Inductor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Path, Stamp, Terminal, Tie, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{Current, Inductance, IntoQuantity};

/// An ideal inductor: `v = d/dt (L i)`. Its current is the state `current`.
///
/// # Example
/// ```
/// let choke = stallpoint::parts::Inductor::new("120 uH")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Inductor {
    /// Inductance, H, above zero.
    pub inductance: Inductance,
    /// Current when a transient starts, A.
    #[serde(default)]
    pub initial_current: Current,
}

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl Inductor {
    /// An inductor without current.
    ///
    /// # Errors
    /// A wrong unit, or an inductance that is not above zero.
    pub fn new(inductance: impl IntoQuantity<Inductance>) -> Result<Self, Error> {
        let inductance = super::quantity("inductance", inductance)?;
        let inductor = Self { inductance, initial_current: Current::default() };
        inductor.check()?;
        Ok(inductor)
    }
}

impl Part for Inductor {
    fn kind(&self) -> &'static str {
        "inductor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("inductance", self.inductance)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown { initial: self.initial_current.si(), ..Unknown::fast("current", "A", 1.0) }]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let l = self.inductance.si();
        super::branch_current(at, out, A, B, I);
        out.q(I, l * at.x(I));
        out.dq(I, I, l);
        out.f(I, at.x(B) - at.x(A));
        out.df(I, A, -1.0);
        out.df(I, B, 1.0);
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(A, B, Tie::Inductive)]
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.inductance.si() * at.x(I) * at.x(I)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
