//! A gear between the motor's shaft and a load: its losses as dry friction.

use crate::circuit::DryFriction;
use crate::error::PartError;
use crate::quantity::Fraction;

/// Torques that a load puts on the shaft through a lossless gear, N·m.
#[derive(Debug, Clone, Copy)]
pub(super) struct Torques {
    /// Pulls against forward, moving or not; negative helps forward.
    pub(super) active: f64,
    /// Opposes motion while it moves.
    pub(super) passive: f64,
    /// Opposes motion at rest.
    pub(super) passive_breakaway: f64,
}

/// Efficiencies of a gear while it turns; at rest they may be lower.
#[derive(Debug, Clone, Copy)]
pub(super) struct Efficiencies {
    pub(super) running: Fraction,
    pub(super) breakaway: Option<Fraction>,
    pub(super) back: Option<Fraction>,
}

impl Efficiencies {
    /// Efficiency (running, at rest) when the motor drives the load.
    fn forward(&self) -> (f64, f64) {
        let running = self.running.si();
        (running, self.breakaway.map_or(running, |given| given.si()))
    }

    /// Efficiency (running, at rest) when the load drives the motor: `2 - 1/η` as friction on a screw of small lead angle
    /// has it, unless given; negative when the gear locks. At rest it is lower by what the drive's own loss grows.
    pub(super) fn back(&self) -> (f64, f64) {
        let (running, rest) = self.forward();
        let back = self.back.map_or(2.0 - 1.0 / running, |given| given.si());
        (back, back - (1.0 / rest - 1.0 / running))
    }

    /// Dry friction against forward and against backward motion.
    ///
    /// Motion needs `N = passive ± active` behind the gear and `S(N)` before it, `N/η` when positive and `N η_back` when the
    /// load drives. What `S` has beyond the active torque is friction.
    pub(super) fn friction(&self, torques: Torques) -> [DryFriction; 2] {
        let needed = |n: f64, forward: f64, back: f64| if n >= 0.0 { n / forward } else { n * back };
        let ((eta, eta_rest), (back, back_rest)) = (self.forward(), self.back());
        [1.0, -1.0].map(|way| {
            let active = way * torques.active;
            DryFriction {
                running: needed(torques.passive + active, eta, back) - active,
                breakaway: needed(torques.passive_breakaway + active, eta_rest, back_rest) - active,
            }
        })
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::in_range;
        let eta = self.running.si();
        in_range("efficiency", self.running, eta > 0.0 && eta <= 1.0, "above 0 and at most 1")?;
        if let Some(rest) = self.breakaway {
            let allowed = format!("above 0 and at most the efficiency while turning, {eta}");
            in_range("breakaway_efficiency", rest, rest.si() > 0.0 && rest.si() <= eta, &allowed)?;
        }
        if let Some(back) = self.back {
            let allowed = "at most 1; negative for a gear that locks";
            in_range("back_driving_efficiency", back, back.si() <= 1.0, allowed)?;
        }
        Ok(())
    }
}
