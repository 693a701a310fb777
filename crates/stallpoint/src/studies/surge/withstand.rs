//! How long a cable withstands a current.

use crate::parts::Cable;
use crate::tables::adiabatic;

pub(super) use crate::parts::AMPACITY_AMBIENT_C;

/// Time for which a cable withstands a current without losing heat, `k² S² / i²`, s.
///
/// Returns none when no value of `k` is known for its insulation.
///
/// Limits: starts at the insulation's limit for continuous duty and ends at its limit for a short circuit (70 °C and 160 °C
/// for PVC); too short beyond some 5 s, for heat does get out by then.
///
/// Source: IEC 60364-5-54.
pub fn adiabatic_time(cable: &Cable, current: f64) -> Option<f64> {
    let area_mm2 = cable.area_m2() * 1e6;
    let k = adiabatic::k_value(cable.conductor, cable.insulation, area_mm2)?.k;
    Some((k * area_mm2 / current).powi(2))
}

/// Time for which a cable withstands a current, s: `k² S² / i²` for short times, bending upwards as heat gets out.
///
/// The time from the insulation's limit for continuous duty `θ_i` to its limit for a short circuit `θ_f` (70 °C and 160 °C
/// for PVC). The conductor is one body whose resistance grows in proportion to `β + θ`, as `k` already has it, and which
/// the ampacity `i_z` holds at `θ_i` in air of `θ_a` = 30 °C:
///
/// ```text
/// k² S² / ln((β + θ_f) / (β + θ_i)) · dθ/dt = i² (β + θ) - i_z² (β + θ_i) (θ - θ_a) / (θ_i - θ_a)
/// ```
/// The right side is linear in `θ`: `w = (β + θ_i) (i² - i_z²)` at `θ_i` and `(1 + x) w` at `θ_f`. So
///
/// ```text
/// t = k² S² / ln((β + θ_f) / (β + θ_i)) · (θ_f - θ_i) / w · ln(1 + x) / x
/// x = (θ_f - θ_i) / w · (i² - i_z² (β + θ_i) / (θ_i - θ_a))
/// ```
/// Up to `i_z √((β + θ_i) (θ_f - θ_a) / ((β + θ_f) (θ_i - θ_a)))` it never gets to `θ_f`: the time is infinite. That is
/// 1.58 times the ampacity for copper in PVC up to 300 mm² and 1.57 times in XLPE. Currents between the ampacity and there
/// age the insulation all the same.
///
/// Returns none when no value of `k` is known; `k² S² / i²` when the cable's ampacity is missing.
///
/// Limits: heat is stored in the metal alone, as `k` has it, and gets out in proportion to `θ - θ_a`. The current is steady.
///
/// Source: IEC 60364-5-54 Annex A for `k` and `β`; the heat that gets out is our own combination with the ampacity, its
/// ambient from IEC 60364-5-52 (from memory). `β` of aluminium from memory.
///
/// ```
/// use stallpoint::parts::Cable;
/// use stallpoint::studies::surge::{adiabatic_time, cable_limit_time};
/// let mut cable = Cable::new("16 mm2", "7 m")?;
/// cable.ampacity = Some("85 A".parse()?);
/// assert_eq!(cable_limit_time(&cable, 1.58 * 85.0), Some(f64::INFINITY));
/// assert!(cable_limit_time(&cable, 1.6 * 85.0) > adiabatic_time(&cable, 1.6 * 85.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn cable_limit_time(cable: &Cable, current: f64) -> Option<f64> {
    let adiabatic = adiabatic_time(cable, current)?;
    let Some(ampacity) = cable.ampacity else { return Some(adiabatic) };
    let k = adiabatic::k_value(cable.conductor, cable.insulation, cable.area_m2() * 1e6)?;
    let beta = cable.conductor.material().inferred_zero_c;
    let (first, last) = (beta + k.initial_c, beta + k.final_c);
    let rise = k.final_c - k.initial_c;
    // All over the square of the current, which then may be zero.
    let share = (ampacity.si() / current).powi(2);
    let heating = first * (1.0 - share);
    let x = rise / heating * (1.0 - share * first / (k.initial_c - AMPACITY_AMBIENT_C));
    // Within the ampacity it never warms at all; where the net heating would have to turn about, it settles before.
    if heating <= 0.0 || x <= -1.0 {
        return Some(f64::INFINITY);
    }
    let bend = if x == 0.0 { 1.0 } else { x.ln_1p() / x };
    Some(adiabatic / (last / first).ln() * rise / heating * bend)
}
