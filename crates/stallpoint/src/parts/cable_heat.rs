//! How a cable's conductor heats.

use super::cable::Cable;
use crate::tables::adiabatic;

/// Air temperature that an ampacity is for, °C (IEC 60364-5-52's reference for cables in air, from memory).
pub(crate) const AMPACITY_AMBIENT_C: f64 = 30.0;

/// Guards of a cable that heats, which are its events too.
pub(super) const GUARDS: [&str; 2] = ["insulation limit reached", "insulation below its limit again"];
/// Modes: below the limit, above it.
pub(super) const BELOW: u32 = 0;
pub(super) const REACHED: u32 = 1;
/// How far below the limit counts as below it again, K (typical, no source).
const BACK: f64 = 1.0;

/// One run's conductor as a body of heat.
///
/// ```text
/// R(T) = R_20 (1 + α (T - 20 °C))
/// C = K² ρ_20 S / (β + 20 °C) · length
/// G = ampacity² R(T_limit) / (T_limit - 30 °C)
/// ```
///
/// At a constant current `T` goes to its end value with the time constant `C / (G - i² R_20 α)`; where that is negative it
/// runs away.
///
/// Source: C turns IEC 60949's constant K round, so short times agree with the withstand I√t = k S; G balances the heat
/// at the rating; the 30 °C are IEC 60364-5-52's reference from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConductorHeat {
    /// Resistance at 20 °C, ohm.
    pub resistance_20c: f64,
    /// Temperature coefficient at 20 °C, 1/K.
    pub coefficient: f64,
    /// Heat capacity of the metal, J/K.
    pub capacity: f64,
    /// Loss to the air for each kelvin of rise, W/K.
    pub conductance: f64,
    /// Conductor temperature that the insulation stands for ever, °C.
    pub limit_c: f64,
}

impl ConductorHeat {
    pub(super) fn new(resistance_20c: f64, cable: &Cable, ampacity: f64, limit_c: f64) -> Option<Self> {
        let per_metre = adiabatic::heat_capacity_per_m(cable.conductor, cable.area_m2() * 1e6)?;
        let coefficient = cable.conductor.material().temp_coeff_20c_per_k;
        let hot = resistance_20c * (1.0 + coefficient * (limit_c - 20.0));
        Some(Self {
            resistance_20c,
            coefficient,
            capacity: per_metre * cable.length.si(),
            conductance: hot * ampacity * ampacity / (limit_c - AMPACITY_AMBIENT_C),
            limit_c,
        })
    }

    /// Resistance at a temperature (°C) and its slope, ohm and ohm/K.
    pub fn resistance(&self, temperature_c: f64) -> (f64, f64) {
        let slope = self.resistance_20c * self.coefficient;
        (self.resistance_20c + slope * (temperature_c - 20.0), slope)
    }

    pub(super) fn guard_values(&self, temperature_c: f64, mode: u32, out: &mut [f64]) {
        let over = temperature_c - self.limit_c;
        out[0] = if mode == REACHED { -1.0 } else { over };
        out[1] = if mode == REACHED { -BACK - over } else { -1.0 };
    }
}
