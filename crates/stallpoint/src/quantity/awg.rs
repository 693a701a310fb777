//! American wire gauge.

/// The diameter of a solid conductor of gauge `n` in m; 1/0 is 0, 2/0 is −1, 4/0 is −3.
///
/// Equation: d = 0.005 in · 92^((36 − n)/39). Source: ASTM B258.
///
/// ```
/// assert_eq!(stallpoint::quantity::awg_diameter_m(36), 0.005 * 0.0254);
/// ```
pub fn awg_diameter_m(n: i32) -> f64 {
    0.005 * 0.0254 * 92f64.powf(f64::from(36 - n) / 39.0)
}

/// The metal cross-section of gauge `n` in m², solid or stranded.
///
/// Equation: π d²/4 with [`awg_diameter_m`]. Source: ASTM B258.
pub fn awg_area_m2(n: i32) -> f64 {
    std::f64::consts::FRAC_PI_4 * awg_diameter_m(n).powi(2)
}
