//! How hot the metal of a contact is where the current is squeezed most.

/// Lorenz number of metals, V²/K² (2.44e-8; R. Holm, Electric Contacts).
pub const LORENZ: f64 = 2.44e-8;
/// 0 °C in K.
const ZERO_C: f64 = 273.15;

/// Temperature of the hottest spot of a metallic contact, °C.
///
/// ```text
/// T_max² = T_0² + U² / (4 L),    T in K, L = 2.44e-8 V²/K²
/// ```
///
/// Arguments: `voltage` across the metallic constriction, V; `metal_c`, temperature of the metal well away from it, °C.
///
/// Limits: steady, symmetric, bare metal whose heat leaves by the ways that the current comes. Above the melting voltage
/// the spot melts and widens, so that no hotter one lasts. A film or corrosion does not follow it.
///
/// Source: F. Kohlrausch's voltage–temperature relation in R. Holm, Electric Contacts, and P. G. Slade, Electrical Contacts.
///
/// # Example
/// ```
/// use stallpoint::parts::hottest_spot_c;
///
/// assert_eq!(hottest_spot_c(0.0, 20.0), 20.0);
/// assert!((hottest_spot_c(0.414, 20.0) - 1084.0).abs() < 2.0); // copper melts at 1358 K
/// ```
pub fn hottest_spot_c(voltage: f64, metal_c: f64) -> f64 {
    let kelvin = metal_c + ZERO_C;
    let square = voltage * voltage / (4.0 * LORENZ);
    // The rise on its own, so that a small one keeps its digits.
    metal_c + square / ((kelvin * kelvin + square).sqrt() + kelvin)
}

/// Voltage across a metallic constriction at which its hottest spot reaches a temperature, V: the softening or the melting
/// voltage, by the temperature given.
///
/// ```text
/// U = 2 √(L (T² - T_0²)),    T in K, L = 2.44e-8 V²/K²
/// ```
///
/// Arguments: `spot_c`, the temperature to reach, °C; `metal_c`, that of the metal well away from it, °C. Zero where the
/// metal is that hot already.
///
/// Limits and source: those of [`hottest_spot_c`].
///
/// # Example
/// ```
/// use stallpoint::parts::spot_voltage;
///
/// let tin_melts = spot_voltage(505.0 - 273.15, 20.0);
/// assert!((tin_melts - 0.1285).abs() < 1e-4);
/// ```
pub fn spot_voltage(spot_c: f64, metal_c: f64) -> f64 {
    let (spot, metal) = (spot_c + ZERO_C, metal_c + ZERO_C);
    2.0 * (LORENZ * (spot * spot - metal * metal).max(0.0)).sqrt()
}
