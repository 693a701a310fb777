//! Shaft: inertia, and the dry friction that holds or slows it.

use crate::circuit::{At, Change, DryFriction, Memory, Part, Path, Power, Stamp, Terminal, Trigger, Unknown, shaft};

/// The shaft that motors and loads sit on; the circuit makes one for every shaft node.
///
/// Momentum `d/dt (J ω) + Σ torques + T_f = 0`, with the friction torque `T_f` as an unknown of its own: held, it is what
/// keeps `ω = 0`, as long as it does not exceed the sum of the parts' breakaway torques; sliding, it is the sum of their
/// running torques against the motion, which may differ forward and backward. The two modes change at located events, so that a held shaft is held exactly.
///
/// States: `friction_torque`; probes: `speed`.
///
/// Source: Coulomb friction with breakaway; see C. Canudas de Wit et al., IEEE Trans. Autom. Control 40 (1995) 419, for
/// what it leaves out.
#[derive(Debug, Clone)]
pub struct Shaft {
    inertia: f64,
    /// Against forward and against backward motion.
    friction: [DryFriction; 2],
}

const SPEED: usize = 0;
const TORQUE: usize = 1;
const TERMINALS: [Terminal; 1] = [shaft("shaft")];

impl Shaft {
    pub(crate) const KIND: &'static str = "shaft";
    pub(crate) const STUCK: u32 = 0;
    pub(crate) const FORWARD: u32 = 1;
    pub(crate) const BACKWARD: u32 = 2;

    /// The shaft under some parts.
    pub(crate) fn carrying<'p>(parts: impl Iterator<Item = &'p dyn Part>) -> Self {
        let mut own = Self { inertia: 0.0, friction: [DryFriction::default(); 2] };
        for part in parts {
            own.inertia += part.inertia();
            for (sum, friction) in own.friction.iter_mut().zip(part.dry_friction_each_way()) {
                sum.running += friction.running;
                sum.breakaway += friction.breakaway.max(friction.running);
            }
        }
        own
    }
}

impl Part for Shaft {
    fn kind(&self) -> &'static str {
        Self::KIND
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("friction_torque", "N m", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        out.q(SPEED, self.inertia * at.x(SPEED));
        out.dq(SPEED, SPEED, self.inertia);
        out.f(SPEED, at.x(TORQUE));
        out.df(SPEED, TORQUE, 1.0);
        let (by_speed, by_torque, given) = match at.memory.mode {
            Self::STUCK => (1.0, 0.0, 0.0),
            Self::FORWARD => (0.0, 1.0, self.friction[0].running),
            _ => (0.0, 1.0, -self.friction[1].running),
        };
        out.f(TORQUE, by_speed * at.x(SPEED) + by_torque * at.x(TORQUE) - given);
        out.df(TORQUE, SPEED, by_speed);
        out.df(TORQUE, TORQUE, by_torque);
    }

    fn paths(&self) -> Vec<Path> {
        Vec::new()
    }

    fn guards(&self) -> &[&'static str] {
        &["breaks away forward", "breaks away backward", "comes to a stop"]
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        match at.memory.mode {
            // Friction against a forward drive is positive.
            Self::STUCK => {
                out[0] = at.x(TORQUE) - self.friction[0].breakaway;
                out[1] = -at.x(TORQUE) - self.friction[1].breakaway;
            }
            Self::FORWARD => out[2] = -at.x(SPEED),
            _ => out[2] = at.x(SPEED),
        }
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let stuck = at.memory.mode == Self::STUCK;
        let (mode, what) = match trigger {
            Trigger::Guard(0) if stuck => (Self::FORWARD, "starts forward"),
            Trigger::Guard(1) if stuck => (Self::BACKWARD, "starts backward"),
            Trigger::Guard(2) if !stuck => {
                change.reset(SPEED, 0.0);
                (Self::STUCK, "stops")
            }
            _ => return,
        };
        change.memory = Memory::new(mode, []);
        change.event(what);
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: 0.0, dissipated: at.x(TORQUE) * at.x(SPEED) }
    }

    fn stored(&self, at: &At) -> f64 {
        0.5 * self.inertia * at.x(SPEED) * at.x(SPEED)
    }

    fn probes(&self) -> &[crate::circuit::Probe] {
        &[crate::circuit::Probe { name: "speed", unit: "rad/s" }]
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        at.x(SPEED)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
