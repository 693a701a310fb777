//! What can be wrong with an armature and its brushes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Angle, Fraction, Resistance, Voltage};

/// Faults of an armature and its brushes; all healthy by default.
///
/// ```text
/// worn brush:     R + brush_resistance,  V_b + brush_drop
/// shorted turns:  K' = K u,  R' = R u,  L' = L u²  with u = (1 - 2 s) / (1 - s),
///                 braking torque  s / (1 - s) · K² ω / R
/// dead spot:      R + resistance while the shaft is within width / 2 of angle
/// open:           R + 1 GΩ
/// ```
///
/// Shorted turns: of `N` equal coils in two parallel paths, `s N` in one path are shorted. The two unequal paths seen from the
/// brushes give `u`; the shorted coils and the current between the paths turn `s / (1 - s) · (K ω)² / R` into heat.
///
/// Limits: shorted turns below half of the armature, without the inductance of the shorted coils (which lessens the braking
/// at high speed); one dead spot a turn, its edges rounded over a tenth of its width.
///
/// Source: derived here from equal coils in two parallel paths.
///
/// # Example
/// ```
/// use stallpoint::parts::PermanentMagnetMotor;
/// use stallpoint::parts::motor::ArmatureFaults;
///
/// let mut motor = PermanentMagnetMotor::new("25 mohm", "120 uH", "0.045 N m/A", "0.004 kg m2")?;
/// motor.faults = ArmatureFaults { brush_resistance: "40 mohm".parse()?, ..ArmatureFaults::default() };
/// assert!((motor.armature().total_resistance_at(20.0) - 0.065).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ArmatureFaults {
    /// What worn brushes add to the resistance, ohm.
    pub brush_resistance: Resistance,
    /// What worn brushes add to the brush drop, V.
    pub brush_drop: Voltage,
    /// Share of the armature's turns that are shorted, 0 to below 0.5.
    pub shorted_turns: Fraction,
    /// A stretch of the turn where the brushes find a bad commutator segment.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dead_spot: Option<DeadSpot>,
    /// Whether the armature circuit is open: a brush that no longer touches, a lead off.
    pub open: bool,
}

/// A stretch of one turn with more resistance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DeadSpot {
    /// Shaft angle of its middle, rad.
    pub angle: Angle,
    /// Its width, rad.
    pub width: Angle,
    /// What it adds to the resistance, ohm.
    pub resistance: Resistance,
}

/// What an open armature still conducts through: an insulation of 1 GΩ (typical, no source).
const OPEN: f64 = 1e9;
/// Share of a dead spot's width over which each of its edges rises.
const EDGE: f64 = 0.1;

impl ArmatureFaults {
    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        not_negative("faults.brush_resistance", self.brush_resistance)?;
        not_negative("faults.brush_drop", self.brush_drop)?;
        let share = self.shorted_turns;
        in_range("faults.shorted_turns", share, share.si() >= 0.0 && share.si() < 0.5, "0 to below 0.5")?;
        if let Some(spot) = self.dead_spot {
            let width = spot.width;
            let one_turn = width.si() > 0.0 && width.si() < std::f64::consts::TAU;
            in_range("faults.dead_spot.width", width, one_turn, "above 0 rad and below one turn, 6.283 rad")?;
            in_range("faults.dead_spot.angle", spot.angle, true, "a finite angle")?;
            above_zero("faults.dead_spot.resistance", spot.resistance)?;
        }
        Ok(())
    }

    /// What is left of constant and resistance with shorted turns.
    pub(super) fn turns_left(&self) -> f64 {
        let s = self.shorted_turns.si();
        (1.0 - 2.0 * s) / (1.0 - s)
    }

    /// Braking by shorted turns, as a share of `K² / R`.
    pub(super) fn braking(&self) -> f64 {
        let s = self.shorted_turns.si();
        s / (1.0 - s)
    }

    /// Resistance that is added at every angle, ohm.
    pub(super) fn series_resistance(&self) -> f64 {
        self.brush_resistance.si() + if self.open { OPEN } else { 0.0 }
    }
}

impl DeadSpot {
    /// Added resistance at a shaft angle and its slope.
    pub(super) fn at(&self, angle: f64) -> (f64, f64) {
        use std::f64::consts::{PI, TAU};
        let off = (angle - self.angle.si() + PI).rem_euclid(TAU) - PI;
        let (width, resistance) = (self.width.si(), self.resistance.si());
        let edge = EDGE * width;
        let inside = (0.5 + (0.5 * width - off.abs()) / edge).clamp(0.0, 1.0);
        let value = inside * inside * (3.0 - 2.0 * inside);
        let slope = 6.0 * inside * (1.0 - inside) * -off.signum() / edge;
        (resistance * value, resistance * slope)
    }
}
