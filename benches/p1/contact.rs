//! Laws of the contacts and of the suppression diode: current and slope at a voltage.

use super::parameters::{ARC_VOLTAGE, CLAMP_WIDTH, DIODE_IS, DIODE_LINEAR, DIODE_NVT, G_ARC, G_CLOSED, G_OPEN};

/// State of a contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gap {
    Closed,
    /// Open without a state for the arc: a smooth clamp.
    Clamped,
    /// Open, and not burning.
    Open,
    /// Open, and burning with this sign.
    Arc(f64),
}

impl Gap {
    /// Current through the contact and its slope.
    pub fn law(self, v: f64) -> (f64, f64) {
        match self {
            Gap::Closed => (G_CLOSED * v, G_CLOSED),
            Gap::Open => (G_OPEN * v, G_OPEN),
            Gap::Arc(sign) => (G_ARC * (v - sign * ARC_VOLTAGE), G_ARC),
            Gap::Clamped => {
                let (up, up_slope) = softplus(v - ARC_VOLTAGE);
                let (down, down_slope) = softplus(-v - ARC_VOLTAGE);
                (G_OPEN * v + G_ARC * (up - down), G_OPEN + G_ARC * (up_slope + down_slope))
            }
        }
    }

    /// Opens a contact that carries `current`; with `arcs` it burns when the open contact could not hold it.
    pub fn open(&mut self, arcs: bool, current: f64) {
        if *self == Gap::Closed {
            *self = match arcs {
                false => Gap::Clamped,
                true if current.abs() > G_OPEN * ARC_VOLTAGE => Gap::Arc(current.signum()),
                true => Gap::Open,
            };
        }
    }

    /// Guards: out, or struck forwards; struck backwards.
    pub fn guards(self, v: f64) -> [f64; 2] {
        match self {
            Gap::Closed | Gap::Clamped => [-1.0, -1.0],
            Gap::Open => [v - ARC_VOLTAGE, -v - ARC_VOLTAGE],
            Gap::Arc(sign) => [-sign * self.law(v).0, -1.0],
        }
    }

    /// Changes what a guard asks for; says whether it did.
    pub fn fire(&mut self, backwards: bool) -> bool {
        *self = match *self {
            Gap::Open => Gap::Arc(if backwards { -1.0 } else { 1.0 }),
            Gap::Arc(_) if !backwards => Gap::Open,
            _ => return false,
        };
        true
    }
}

/// `w ln(1 + exp(u / w))` and its slope.
fn softplus(u: f64) -> (f64, f64) {
    let z = u / CLAMP_WIDTH;
    // Below this it adds less than rounding to the open contact's own current.
    if z < -45.0 {
        return (0.0, 0.0);
    }
    let e = (-z.abs()).exp();
    let slope = if z > 0.0 { 1.0 / (1.0 + e) } else { e / (1.0 + e) };
    (CLAMP_WIDTH * (z.max(0.0) + e.ln_1p()), slope)
}

/// Diode, continued by its tangent above a voltage.
pub fn diode(v: f64) -> (f64, f64) {
    let bent = v.min(DIODE_LINEAR);
    let e = DIODE_IS * (bent / DIODE_NVT).exp();
    let slope = e / DIODE_NVT;
    (e - DIODE_IS + slope * (v - bent), slope)
}
