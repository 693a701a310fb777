//! Conductor sizes by voltage drop.

use super::catalogue;
use std::sync::LazyLock;

/// One of the published allowances.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Allowance {
    constant: f64,
    critical: f64,
    noncritical: f64,
}

static ALLOWANCE: LazyLock<Option<Allowance>> = LazyLock::new(|| {
    let rows = catalogue::rows("voltage_drop", |t, row| {
        Ok(Allowance {
            constant: t.number(row, "constant_ohm_cmil_per_ft")?,
            critical: t.number(row, "critical")?,
            noncritical: t.number(row, "noncritical")?,
        })
    });
    rows.first().copied()
});

/// Where the allowances come from.
pub const SOURCE: &str = "ABYC E-11, 11.14.2.6";

/// Fraction of the nominal voltage that the conductors of a critical circuit may drop, and those of any other.
///
/// Source: ABYC E-11, 11.14.2.6.
///
/// ```
/// assert_eq!(stallpoint::tables::voltage_drop::allowed_fractions(), [0.03, 0.10]);
/// ```
pub fn allowed_fractions() -> [f64; 2] {
    ALLOWANCE.map_or([f64::NAN; 2], |row| [row.critical, row.noncritical])
}

/// One circular mil in m²: a circle of 0.0254 mm.
pub const CIRCULAR_MIL_M2: f64 = std::f64::consts::FRAC_PI_4 * 2.54e-5 * 2.54e-5;
const FOOT: f64 = 0.3048;

/// The smallest area of copper in m² that drops at most `drop` V at `current` A over `there_and_back` m of conductor.
///
/// Equation: CM = K I L / E in circular mils with K = 10.75 and L in feet from the source to the load and back.
///
/// Limits: copper, at the temperature that K stands for (some 28 °C by IEC 60028's resistivity).
///
/// Source: ABYC E-11, 11.14.2.6.
///
/// ```
/// use stallpoint::tables::voltage_drop::{CIRCULAR_MIL_M2, minimum_area_m2};
/// let area = minimum_area_m2(10.0, 21.0 * 0.3048, 0.36);
/// assert!((area / CIRCULAR_MIL_M2 - 6270.8).abs() < 0.1); // the standard's own example
/// ```
pub fn minimum_area_m2(current: f64, there_and_back: f64, drop: f64) -> f64 {
    let constant = ALLOWANCE.map_or(f64::NAN, |row| row.constant);
    constant * current * (there_and_back / FOOT) / drop * CIRCULAR_MIL_M2
}
