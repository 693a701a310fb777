//! The contactor's stroke and the times it schedules.

use super::parameters::{BOUNCE, BOUNCES, CONTROL_OFF, CONTROL_ON, L_COIL_OPEN, L_COIL_STROKE, TRAVEL};

/// Where the armature is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Phase {
    Rest,
    /// On its way in since a time.
    Pull(f64),
    Sealed,
    /// On its way out since a time.
    Release(f64),
}

/// What is due at a scheduled time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Due {
    Control,
    TravelEnds,
    Bounce,
}

/// Phase and timers.
#[derive(Debug, Clone, Copy)]
pub struct Relay {
    pub phase: Phase,
    /// Control changes made.
    pub controls: u32,
    /// When the contact closed first, and bounces made since; `None` when it no longer bounces.
    pub bounce: Option<(f64, u32)>,
}

impl Relay {
    pub fn new() -> Self {
        Self { phase: Phase::Rest, controls: 0, bounce: None }
    }

    /// The earliest time scheduled.
    pub fn next(&self) -> Option<(f64, Due)> {
        let control = [CONTROL_ON, CONTROL_OFF].get(self.controls as usize).map(|&t| (t, Due::Control));
        let travel = match self.phase {
            Phase::Pull(since) | Phase::Release(since) => Some((since + TRAVEL, Due::TravelEnds)),
            Phase::Rest | Phase::Sealed => None,
        };
        let bounce = self.bounce.map(|(closed, made)| (closed + BOUNCE * f64::from(made + 1), Due::Bounce));
        [control, travel, bounce].into_iter().flatten().min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Counts a bounce; says whether the contact is closed after it.
    pub fn bounced(&mut self) -> bool {
        let Some((closed, made)) = self.bounce else { return true };
        let made = made + 1;
        self.bounce = (made < BOUNCES).then_some((closed, made));
        made % 2 == 0
    }

    /// Inductance of the coil.
    pub fn inductance(&self, t: f64) -> f64 {
        let u = match self.phase {
            Phase::Rest => 0.0,
            Phase::Sealed => 1.0,
            Phase::Pull(since) => ((t - since) / TRAVEL).clamp(0.0, 1.0),
            Phase::Release(since) => 1.0 - ((t - since) / TRAVEL).clamp(0.0, 1.0),
        };
        L_COIL_OPEN + L_COIL_STROKE * u * u * (3.0 - 2.0 * u)
    }
}
