//! Adiabatic heating of a conductor: how much I²t its insulation withstands.

use super::catalogue;
use super::conductors::Conductor;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// An insulation with a k value that has a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Insulation {
    /// PVC for 70 °C.
    #[serde(rename = "pvc_70")]
    Pvc70,
    /// Cross-linked polyethylene or EPR for 90 °C.
    #[serde(rename = "xlpe_90")]
    Xlpe90,
}

impl Insulation {
    /// Conductor temperature that it stands for ever, °C (IEC 60364-5-54 Annex A, the initial temperatures).
    pub fn continuous_limit_c(self) -> f64 {
        match self {
            Insulation::Pvc70 => 70.0,
            Insulation::Xlpe90 => 90.0,
        }
    }

    fn from_name(name: &str) -> Option<Self> {
        match name {
            "pvc_70" => Some(Insulation::Pvc70),
            "xlpe_90" => Some(Insulation::Xlpe90),
            _ => None,
        }
    }
}

/// A k value and the temperatures it holds between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KValue {
    /// k in A s^½ / mm².
    pub k: f64,
    /// Conductor temperature at the start in °C.
    pub initial_c: f64,
    /// Highest conductor temperature at the end in °C.
    pub final_c: f64,
}

struct Row {
    conductor: Conductor,
    insulation: Insulation,
    max_area_mm2: Option<f64>,
    value: KValue,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    catalogue::rows("adiabatic_k", |t, row| {
        Ok(Row {
            conductor: t.parsed(row, "conductor", "a conductor", Conductor::from_name)?,
            insulation: t.parsed(row, "insulation", "an insulation", Insulation::from_name)?,
            max_area_mm2: t.optional(row, "max_area_mm2")?,
            value: KValue {
                k: t.number(row, "k_a_sqrt_s_per_mm2")?,
                initial_c: t.number(row, "initial_c")?,
                final_c: t.number(row, "final_c")?,
            },
        })
    })
});

/// Metal, K, β.
static CONSTANTS: LazyLock<Vec<(Conductor, f64, f64)>> = LazyLock::new(|| {
    catalogue::rows("adiabatic_constants", |t, row| {
        let metal = t.parsed(row, "conductor", "a conductor", Conductor::from_name)?;
        Ok((metal, t.number(row, "k_constant")?, t.number(row, "beta_c")?))
    })
});

/// The standard's k for a conductor of `area_mm2` that starts at its insulation's limit.
///
/// Returns `None` where no value with a source is at hand (aluminium in PVC above 300 mm²).
///
/// Source: IEC 60364-5-54 Annex A.
///
/// ```
/// use stallpoint::tables::{adiabatic::{Insulation, k_value}, conductors::Conductor};
/// let k = k_value(Conductor::Copper, Insulation::Pvc70, 35.0).unwrap();
/// assert_eq!((k.k, k.initial_c, k.final_c), (115.0, 70.0, 160.0));
/// ```
pub fn k_value(conductor: Conductor, insulation: Insulation, area_mm2: f64) -> Option<KValue> {
    let fits = |row: &&Row| {
        let size = row.max_area_mm2.is_none_or(|limit| area_mm2 <= limit);
        row.conductor == conductor && row.insulation == insulation && size
    };
    ROWS.iter().find(fits).map(|row| row.value)
}

/// k between any two conductor temperatures, for a cable that does not start at its limit.
///
/// Equation: k = K √ln((β + θ_final)/(β + θ_initial)).
///
/// Returns k in A s^½ / mm², or `None` unless −β < `initial_c` < `final_c`.
///
/// Source: IEC 60364-5-54 Annex A, IEC 60949; β of aluminium from memory.
///
/// ```
/// use stallpoint::tables::{adiabatic::k_from_temperatures, conductors::Conductor};
/// let cold_start = k_from_temperatures(Conductor::Copper, 20.0, 160.0).unwrap();
/// assert!(cold_start > 115.0);
/// ```
pub fn k_from_temperatures(conductor: Conductor, initial_c: f64, final_c: f64) -> Option<f64> {
    let (_, constant, beta) = CONSTANTS.iter().find(|(metal, ..)| *metal == conductor)?;
    if !(initial_c > -beta && final_c > initial_c && final_c.is_finite()) {
        return None;
    }
    Some(constant * ((beta + final_c) / (beta + initial_c)).ln().sqrt())
}

/// Heat capacity of a metre of conductor in J/K, of the metal alone.
///
/// Equation: K² ρ₂₀ S / (β + 20 °C), which turns the definition of K round.
///
/// Returns `None` where no K with a source is at hand.
///
/// Source: IEC 60364-5-54 Annex A, IEC 60949; β of aluminium from memory.
///
/// ```
/// use stallpoint::tables::{adiabatic::heat_capacity_per_m, conductors::Conductor};
/// let copper = heat_capacity_per_m(Conductor::Copper, 1.0).unwrap();
/// assert!((copper - 3.45).abs() < 0.02); // 3.45e-3 J/(K mm³), IEC 60949
/// ```
pub fn heat_capacity_per_m(conductor: Conductor, area_mm2: f64) -> Option<f64> {
    let (_, constant, beta) = CONSTANTS.iter().find(|(metal, ..)| *metal == conductor)?;
    let resistivity = conductor.material().resistivity_20c_ohm_m * 1e6; // ohm mm²/m
    Some(constant * constant * resistivity * area_mm2 / (beta + 20.0))
}

/// The smallest cross-section in mm² that withstands `current_a` for `time_s`.
///
/// Equation: S = I √t / k.
///
/// Limits: adiabatic, so for times up to 5 s (from memory); a long time needs the cable's ampacity.
///
/// Source: IEC 60364-5-54.
///
/// ```
/// let area = stallpoint::tables::adiabatic::minimum_area_mm2(1000.0, 1.0, 115.0);
/// assert_eq!(area, 1000.0 / 115.0);
/// ```
pub fn minimum_area_mm2(current_a: f64, time_s: f64, k: f64) -> f64 {
    current_a.abs() * time_s.sqrt() / k
}
