//! How an armature's resistance changes with angle and speed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{AngularSpeed, Fraction};

/// How the armature's resistance varies with the shaft's angle and rises when it turns; not at all by default.
///
/// ```text
/// R(θ, ω) = R · (1 + by_angle cos(per_turn θ)) · (1 + when_turning ω² / (ω² + turning_speed²))
/// ```
///
/// Measured on one small motor: 4.46 Ω at rest, within about ±10 % of it over 15 shaft angles but for one, and 5.53 Ω
/// turning, 24 % more (`tests/reference/motor_bare.toml`). Brushes that ride on fewer segments at a time are the cause; the
/// shape of both terms is ours (typical, no source).
///
/// # Example
/// ```
/// use stallpoint::parts::motor::ResistanceVariation;
///
/// let measured = ResistanceVariation { when_turning: "24 %".parse()?, ..ResistanceVariation::default() };
/// assert_eq!(measured.by_angle.si(), 0.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ResistanceVariation {
    /// Swing with the shaft's angle, as a share of the resistance.
    pub by_angle: Fraction,
    /// Periods of that swing in one turn.
    pub per_turn: u32,
    /// Rise when turning, as a share of the resistance.
    pub when_turning: Fraction,
    /// Speed at which half of that rise is there, rad/s (typical, no source).
    pub turning_speed: AngularSpeed,
}

impl Default for ResistanceVariation {
    fn default() -> Self {
        Self {
            by_angle: Fraction::from_si(0.0),
            per_turn: 1,
            when_turning: Fraction::from_si(0.0),
            turning_speed: AngularSpeed::from_si(10.0), // typical, no source
        }
    }
}

impl ResistanceVariation {
    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        let swing = self.by_angle;
        in_range("variation.by_angle", swing, swing.si() >= 0.0 && swing.si() < 1.0, "0 to below 1")?;
        if self.per_turn == 0 {
            return Err(PartError::range("variation.per_turn", self.per_turn, "1 or more"));
        }
        not_negative("variation.when_turning", self.when_turning)?;
        above_zero("variation.turning_speed", self.turning_speed)
    }

    /// Factor at a shaft angle and its slope.
    pub(super) fn at_angle(&self, angle: f64) -> (f64, f64) {
        let (swing, n) = (self.by_angle.si(), f64::from(self.per_turn));
        (1.0 + swing * (n * angle).cos(), -swing * n * (n * angle).sin())
    }

    /// Factor at a speed and its slope.
    pub(super) fn at_speed(&self, omega: f64) -> (f64, f64) {
        let (rise, half) = (self.when_turning.si(), self.turning_speed.si() * self.turning_speed.si());
        let sum = omega * omega + half;
        (1.0 + rise * (omega * omega / sum), rise * (2.0 * omega * half / (sum * sum)))
    }
}
