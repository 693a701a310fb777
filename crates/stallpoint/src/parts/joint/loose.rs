//! A joint that loses contact now and then.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Resistance, Time};

/// A loose joint: it comes apart and together again at random times that its seed decides.
///
/// ```text
/// together for -mean_together ln u, apart for -mean_apart ln u,   u uniform in (0, 1]
/// apart:  i = v / apart_resistance + sign(v) h(|v| - 13 V),   h(x) = 100 S x² / (x + 0.1 V)
/// ```
///
/// A gap that opens under current arcs at no less than 13 V between copper: that is where an inductance's current goes. The
/// same seed gives the same times on every machine; give loose joints of one circuit different seeds.
///
/// Limits: it starts together; the gap holds no more than 13 V whatever its width, so an arc from some higher supply is
/// understated; at an operating point it is as it starts.
///
/// Source: 13 V, the minimum arc voltage of copper: R. Holm, Electric Contacts (from memory). Exponential times, mean times
/// and resistance: typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::{Joint, Loose};
///
/// let shaky = Joint { loose: Some(Loose { seed: 7, ..Loose::default() }), ..Joint::default() };
/// assert_eq!(shaky.loose.unwrap().times(3), Loose { seed: 7, ..Loose::default() }.times(3));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Loose {
    /// Start of the random times.
    pub seed: u64,
    /// Mean time together, s.
    pub mean_together: Time,
    /// Mean time apart, s.
    pub mean_apart: Time,
    /// Resistance while apart, ohm.
    pub apart_resistance: Resistance,
}

impl Default for Loose {
    fn default() -> Self {
        Self {
            seed: 1,
            mean_together: Time::from_si(0.3),
            mean_apart: Time::from_si(0.03),
            apart_resistance: Resistance::from_si(10.0),
        }
    }
}

/// Minimum arc voltage between copper contacts, V (Holm, from memory).
const ARC: f64 = 13.0;
/// Slope of the arc's current and the voltage over which it sets in, S and V (typical, no source).
const SLOPE: f64 = 100.0;
const KNEE: f64 = 0.1;

impl Loose {
    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::above_zero;
        above_zero("loose.mean_together", self.mean_together)?;
        above_zero("loose.mean_apart", self.mean_apart)?;
        above_zero("loose.apart_resistance", self.apart_resistance)
    }

    /// The first `count` times at which it comes apart or together, s, in turn.
    pub fn times(&self, count: usize) -> Vec<f64> {
        let step = |t: &mut f64, k: u64| {
            *t += self.span(k);
            Some(*t)
        };
        (0..count as u64).scan(0.0, step).collect()
    }

    /// Length of span number `k`, s: even ones together, odd ones apart.
    pub(super) fn span(&self, k: u64) -> f64 {
        let mean = if k.is_multiple_of(2) { self.mean_together } else { self.mean_apart };
        // Never zero, so that time moves on.
        mean.si() * (-uniform(self.seed, k).ln()).max(1e-6)
    }

    /// Current through the gap and its slope.
    pub(super) fn gap_current(&self, v: f64) -> (f64, f64) {
        let g = 1.0 / self.apart_resistance.si();
        let x = v.abs() - ARC;
        if x <= 0.0 {
            return (g * v, g);
        }
        let arc = SLOPE * x * x / (x + KNEE);
        (g * v + v.signum() * arc, g + SLOPE * x * (x + 2.0 * KNEE) / ((x + KNEE) * (x + KNEE)))
    }
}

/// Number `k` of a seed's uniform numbers in (0, 1] (the mixer of G. L. Steele et al., OOPSLA 2014).
fn uniform(seed: u64, k: u64) -> f64 {
    let mut z = mixed(seed).wrapping_add(k.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15));
    z = mixed(z);
    ((z >> 11) + 1) as f64 / (1_u64 << 53) as f64
}

fn mixed(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
