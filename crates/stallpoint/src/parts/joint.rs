//! Joint: a bolted, crimped or plugged connection.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Part, Power, Stamp, Terminal, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Resistance};

/// A joint between a stud and a lug: `v = R i`, or `i = G v` with a leakage `G = 1 nS` when it is open.
///
/// States: `current`. It is an unknown so that micro-ohms cost no digits.
///
/// Limits: the resistance is constant: no heating, no film that breaks down.
///
/// Source: a clean bolted power joint has some tens of µΩ, the default is a used one (both typical, no source); leakage
/// typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::Joint;
///
/// let corroded = Joint::new("60 mohm")?;
/// assert_eq!(Joint::default().resistance.si(), 1e-4);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Joint {
    /// Total contact resistance, ohm, above zero.
    pub resistance: Resistance,
    /// Whether it has come apart.
    pub open: bool,
}

impl Default for Joint {
    fn default() -> Self {
        Self { resistance: Resistance::from_si(1e-4), open: false } // typical, no source
    }
}

/// Leakage of an open joint, S (typical, no source).
const LEAKAGE: f64 = 1e-9;

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];

impl Joint {
    /// A joint of a total contact resistance.
    ///
    /// # Errors
    /// A wrong unit, or a resistance that is not above zero.
    pub fn new(resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        let joint = Self { resistance: super::quantity("resistance", resistance)?, open: false };
        joint.check()?;
        Ok(joint)
    }
}

impl Part for Joint {
    fn kind(&self) -> &'static str {
        "joint"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        super::above_zero("resistance", self.resistance)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        // by_i · i = by_v · v
        let (by_i, by_v) = if self.open { (1.0, LEAKAGE) } else { (self.resistance.si(), 1.0) };
        super::branch_current(at, out, A, B, I);
        out.f(I, by_i * at.x(I) - by_v * (at.x(A) - at.x(B)));
        out.df(I, I, by_i);
        out.df(I, A, -by_v);
        out.df(I, B, by_v);
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: (at.x(A) - at.x(B)) * at.x(I) }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
