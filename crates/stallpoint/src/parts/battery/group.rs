//! Strings that are alike.

use crate::tables::PiecewiseLinear;

/// Strings in parallel that are alike, as one source.
#[derive(Debug, Clone)]
pub(super) struct Group {
    /// Strings.
    pub(super) strings: f64,
    /// Blocks' worth of voltage and resistance in series: fewer with dead cells.
    pub(super) blocks: f64,
    /// Capacity of all its strings, C.
    pub(super) capacity: f64,
    /// Series resistance that goes with the charge, of all its strings at the battery's temperature, ohm.
    pub(super) resistance: f64,
    /// Series resistance that does not, ohm.
    pub(super) added: f64,
    /// Resistance and capacitance of the R–C branches: the fast one, the slow one.
    pub(super) branches: [Option<(f64, f64)>; 2],
    /// State of charge at the start.
    pub(super) charge: f64,
    /// Whether it is open.
    pub(super) open: bool,
}

/// What all groups have in common.
#[derive(Debug, Clone)]
pub(super) struct Curves {
    /// Open-circuit voltage of one block at the battery's temperature by state of charge.
    pub(super) voltage: PiecewiseLinear,
    /// Shift of that voltage by temperature, V.
    pub(super) shift: f64,
    /// Resistance over its nominal value by state of charge.
    pub(super) resistance: Option<PiecewiseLinear>,
    /// Rated current of one string and the exponent less one.
    pub(super) peukert: Option<(f64, f64)>,
}

/// Resistance of an open string, S (typical, no source).
pub(super) const LEAKAGE: f64 = 1e-9;
/// Least share of its nominal value that the resistance falls to beyond the ends of the user's points.
const LEAST: f64 = 0.05;

impl Group {
    /// Open-circuit voltage at a state of charge, and its slope.
    pub(super) fn voltage(&self, curves: &Curves, soc: f64) -> (f64, f64) {
        (self.blocks * (curves.voltage.value(soc) + curves.shift), self.blocks * curves.voltage.slope(soc))
    }

    /// Series resistance at a state of charge, and its slope.
    pub(super) fn resistance(&self, curves: &Curves, soc: f64) -> (f64, f64) {
        let (factor, slope) = curves.factor(soc);
        (self.resistance * factor + self.added, self.resistance * slope)
    }

    /// Rate at which a current into the group changes its charge, A, and its slope.
    pub(super) fn charging(&self, curves: &Curves, i: f64) -> (f64, f64) {
        match curves.peukert {
            Some((rated, power)) if i < 0.0 => {
                let loss = (-i / (self.strings * rated)).powf(power);
                (i * loss, (1.0 + power) * loss)
            }
            _ => (i, 1.0),
        }
    }
}

impl Curves {
    pub(super) fn factor(&self, soc: f64) -> (f64, f64) {
        match &self.resistance {
            Some(curve) if curve.value(soc) > LEAST => (curve.value(soc), curve.slope(soc)),
            Some(_) => (LEAST, 0.0),
            None => (1.0, 0.0),
        }
    }
}
