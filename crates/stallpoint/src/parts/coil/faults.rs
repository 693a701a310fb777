//! What can be wrong with a coil and its suppressor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::Suppression;
use crate::error::PartError;
use crate::quantity::Fraction;

/// Faults of one coil; all healthy by default.
///
/// ```text
/// open:           R + 1 GΩ
/// shorted turns:  R' = R (1 - s),  L' = L (1 - s)²,  G' = G + s / ((1 - s)² R);  the ampere-turns count: i (1 - s)
/// ```
///
/// A share `s` of the turns is closed on itself: seen from the others it is a loop of conductance `s / ((1 - s)² R)`, so that
/// the flux rises and falls slowly. Held at a steady voltage the ampere-turns are those of a good coil, but the current and
/// the heat are more by `1 / (1 - s)`.
///
/// Limits: the shorted turns share all their flux with the others.
///
/// Source: derived here from two coils on one iron.
///
/// # Example
/// ```
/// use stallpoint::parts::{Coil, CoilFaults};
///
/// let mut coil = Coil::new("12 V", "24 ohm")?;
/// coil.faults = CoilFaults { shorted_turns: "25 %".parse()?, ..CoilFaults::default() };
/// assert!((coil.faulty_resistance_at(20.0) - 18.0).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct CoilFaults {
    /// Whether the winding, or a connection to it, is open.
    pub open: bool,
    /// Share of the turns that are shorted, 0 to 0.9.
    pub shorted_turns: Fraction,
    /// What is wrong with the suppressor.
    pub suppressor: SuppressorFault,
}

/// What is wrong with the suppressor across a coil.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SuppressorFault {
    /// Nothing.
    #[default]
    Healthy,
    /// Failed to a short of 10 mΩ (typical, no source) across the coil.
    Shorted,
    /// Put in the wrong way round: it conducts while the coil is energised. A resistor alone has no wrong way.
    Reversed,
    /// Missing, or failed open.
    Missing,
}

/// What an open winding still conducts through, ohm (typical, no source).
const OPEN: f64 = 1e9;

impl CoilFaults {
    /// Whether nothing is wrong.
    pub fn is_healthy(&self) -> bool {
        *self == Self::default()
    }

    pub(crate) fn check(&self, of: &str, suppression: &Suppression) -> Result<(), PartError> {
        let share = self.shorted_turns;
        let argument = format!("{of}.shorted_turns");
        crate::parts::in_range(&argument, share, (0.0..=0.9).contains(&share.si()), "between 0 and 0.9")?;
        if self.suppressor != SuppressorFault::Healthy && *suppression == Suppression::None {
            return Err(PartError::Description {
                problem: format!("`{of}.suppressor` is given to a coil without suppression"),
                advice: "give the coil a `suppression`, or leave the fault out".into(),
            });
        }
        Ok(())
    }

    /// Share of the turns that still carry the current.
    pub(crate) fn turns_left(&self) -> f64 {
        1.0 - self.shorted_turns.si()
    }

    pub(crate) fn series_resistance(&self) -> f64 {
        if self.open { OPEN } else { 0.0 }
    }
}
