//! How long a cable withstands a current.

use crate::parts::Cable;
use crate::tables::adiabatic;

/// Air temperature that an ampacity is taken to be given for, °C (IEC 60364-5-52; from memory).
pub(super) const AMPACITY_AMBIENT_C: f64 = 30.0;

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
/// ```text
/// dθ/dt = (θ_f - θ_i) / (k² S²) · (i² - i_z² (θ - θ_a) / (θ_i - θ_a)),   from θ_i to θ_f
/// ```
/// One body that the ampacity `i_z` holds at `θ_i` in air of 30 °C. Below `i_z √((θ_f - θ_a) / (θ_i - θ_a))`, 1.8 times the
/// ampacity for PVC, it never gets to `θ_f`: the time is infinite. Currents between the ampacity and there age the
/// insulation all the same.
///
/// Returns none when no value of `k` is known; `k² S² / i²` when the cable's ampacity is missing.
///
/// Source: our own combination of IEC 60364-5-54 with one body's heat balance; the ambient from IEC 60364-5-52 (from memory).
pub fn cable_limit_time(cable: &Cable, current: f64) -> Option<f64> {
    let adiabatic = adiabatic_time(cable, current)?;
    let Some(ampacity) = cable.ampacity else { return Some(adiabatic) };
    let k = adiabatic::k_value(cable.conductor, cable.insulation, cable.area_m2() * 1e6)?;
    let (first, last) = (k.initial_c - AMPACITY_AMBIENT_C, k.final_c - AMPACITY_AMBIENT_C);
    let overload = (current / ampacity.si()).powi(2);
    let settled = first * overload;
    if settled <= last {
        return Some(f64::INFINITY);
    }
    let time_constant = first * adiabatic * overload / (last - first);
    Some(time_constant * ((settled - first) / (settled - last)).ln())
}
