//! Joint: a bolted, crimped or plugged connection.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::loose::Loose;
use crate::circuit::{At, Change, Memory, Part, Power, Probe, Stamp, Terminal, Trigger, Unknown, electrical};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Resistance};

/// A joint between a stud and a lug: `v = R i`, or `i = G v` with a leakage `G = 1 nS` when it is open.
///
/// A [`Loose`] joint loses contact now and then.
///
/// States: `current`. It is an unknown so that micro-ohms cost no digits. Probes: `together` (1 or 0). Events of a loose
/// joint: "comes apart", "comes together".
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
    /// Whether it has come apart for good.
    pub open: bool,
    /// Loses contact now and then; it does not when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loose: Option<Loose>,
}

impl Default for Joint {
    fn default() -> Self {
        Self { resistance: Resistance::from_si(1e-4), open: false, loose: None } // typical, no source
    }
}

/// Leakage of an open joint, S (typical, no source).
const LEAKAGE: f64 = 1e-9;

const A: usize = 0;
const B: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("a"), electrical("b")];
const PROBES: [Probe; 1] = [Probe { name: "together", unit: "1" }];
/// Modes.
const TOGETHER: u32 = 0;
const APART: u32 = 1;
/// Places in the memory: when a loose joint changes next, how often it has.
const NEXT: usize = 0;
const COUNT: usize = 1;

impl Joint {
    /// A joint of a total contact resistance.
    ///
    /// # Errors
    /// A wrong unit, or a resistance that is not above zero.
    pub fn new(resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        let joint = Self { resistance: crate::parts::quantity("resistance", resistance)?, ..Self::default() };
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
        crate::parts::above_zero("resistance", self.resistance)?;
        match &self.loose {
            Some(loose) => loose.check(),
            None => Ok(()),
        }
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        let v = at.x(A) - at.x(B);
        // by_i · i = flow(v)
        let (by_i, flow, slope) = match &self.loose {
            _ if self.open => (1.0, LEAKAGE * v, LEAKAGE),
            Some(loose) if at.memory.mode == APART => {
                let (flow, slope) = loose.gap_current(v);
                (1.0, flow, slope)
            }
            _ => (self.resistance.si(), v, 1.0),
        };
        crate::parts::branch_current(at, out, A, B, I);
        out.f(I, by_i * at.x(I) - flow);
        out.df(I, I, by_i);
        out.df(I, A, -slope);
        out.df(I, B, slope);
    }

    fn memory(&self) -> Memory {
        match &self.loose {
            Some(loose) => Memory::new(TOGETHER, [loose.span(0), 0.0]),
            None => Memory::default(),
        }
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        memory.numbers.get(NEXT).copied()
    }

    fn change(&self, trigger: Trigger, _: &At, change: &mut Change) {
        let (Some(loose), Trigger::Time) = (&self.loose, trigger) else { return };
        let numbers = &mut change.memory.numbers;
        numbers[COUNT] += 1.0;
        numbers[NEXT] += loose.span(numbers[COUNT] as u64);
        let apart = change.memory.mode == TOGETHER;
        change.memory.mode = if apart { APART } else { TOGETHER };
        change.event(if apart { "comes apart" } else { "comes together" });
    }

    fn probes(&self) -> &[Probe] {
        if self.loose.is_some() { &PROBES } else { &[] }
    }

    fn probe(&self, _: usize, at: &At) -> f64 {
        f64::from(u8::from(at.memory.mode == TOGETHER))
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: (at.x(A) - at.x(B)) * at.x(I) }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
