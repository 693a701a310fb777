//! Values of the drive, all invented, in SI units.

pub const OCV: f64 = 12.6;
pub const R0: f64 = 8e-3;
pub const R1: f64 = 4e-3;
pub const C1: f64 = 500.0;

/// Conductances of the fixed resistances.
pub const G_ISOLATOR: f64 = 1.0 / 0.3e-3;
pub const G_BREAKER: f64 = 1.0 / 1e-3;
pub const G_JOINT: f64 = 1.0 / 0.2e-3;
pub const G_CABLE: f64 = 1.0 / 4e-3;
pub const G_RETURN: f64 = 1.0 / 2e-3;
pub const L_CABLE: f64 = 4e-6;
pub const L_RETURN: f64 = 2e-6;

pub const RA_20: f64 = 25e-3;
pub const COPPER_PER_K: f64 = 0.0039;
pub const AMBIENT: f64 = 20.0;
pub const LA: f64 = 120e-6;
pub const KE: f64 = 0.045;
pub const INERTIA: f64 = 0.004;
pub const FRICTION: f64 = 2e-4;
pub const LOAD: f64 = 3.0;
pub const LOAD_SPEED: f64 = 0.5;
pub const BRUSH: f64 = 0.8;
pub const BRUSH_CURRENT: f64 = 1.0;
pub const WINDING_HEAT: f64 = 120.0;
pub const WINDING_K_PER_W: f64 = 1.5;

pub const BREAKER_TIME: f64 = 8.0;
pub const BREAKER_CURRENT: f64 = 100.0;

pub const R_COIL: f64 = 8.0;
pub const L_COIL_OPEN: f64 = 30e-3;
pub const L_COIL_STROKE: f64 = 20e-3;
pub const TRAVEL: f64 = 12e-3;
pub const PULL_IN: f64 = 7.8 / 8.0;
pub const DROP_OUT: f64 = 3.0 / 8.0;
pub const CONTROL_ON: f64 = 0.05;
pub const CONTROL_OFF: f64 = 1.2;
/// Spacing and number of the contact's bounces after it closes: open, closed, open, closed, open, closed.
pub const BOUNCE: f64 = 0.5e-3;
pub const BOUNCES: u32 = 6;

pub const G_CLOSED: f64 = 1.0 / 0.4e-3;
pub const G_OPEN: f64 = 1e-6;
pub const ARC_VOLTAGE: f64 = 16.0;
pub const G_ARC: f64 = 20.0;
/// Rounding of the smooth clamp.
pub const CLAMP_WIDTH: f64 = 0.2;

pub const DIODE_IS: f64 = 1e-10;
pub const DIODE_NVT: f64 = 0.0414;
pub const DIODE_LINEAR: f64 = 1.2;

/// What distinguishes the variants of the problem.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variant {
    pub name: &'static str,
    /// The arc is a state with events, not a smooth clamp.
    pub arcs: bool,
    /// Conductance across the coil, for its core loss.
    pub core_loss: f64,
    /// The corroded ground joint.
    pub ground_joint: f64,
    /// Length of the supply cable, m; [`G_CABLE`] and [`L_CABLE`] are of 7 m.
    pub cable: f64,
}

impl Variant {
    /// Length of the cable in that of the problem.
    pub fn stretch(&self) -> f64 {
        self.cable / 7.0
    }

    pub const P1: Self = Self { name: "P1", arcs: false, core_loss: 0.0, ground_joint: 20e-3, cable: 7.0 };
    pub const P1B: Self = Self { name: "P1b", core_loss: 1e-3, ..Self::P1 };
    pub const P1C: Self = Self { name: "P1c", arcs: true, ..Self::P1 };
    pub const P1X: Self = Self { name: "P1x", ground_joint: 150e-3, ..Self::P1C };
}
