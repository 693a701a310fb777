//! Conductors: materials and resistance per metre.

use super::catalogue;
use super::loader::Status;
use crate::quantity::ConductorSize;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A conductor's metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Conductor {
    /// Annealed copper.
    Copper,
    /// Aluminium.
    Aluminium,
}

impl Conductor {
    /// The metal of a table's cell.
    pub(super) fn from_name(name: &str) -> Option<Self> {
        match name {
            "copper" => Some(Conductor::Copper),
            "aluminium" => Some(Conductor::Aluminium),
            _ => None,
        }
    }

    /// Its name as in files.
    pub fn name(self) -> &'static str {
        match self {
            Conductor::Copper => "copper",
            Conductor::Aluminium => "aluminium",
        }
    }

    /// Resistivity and temperature behaviour.
    ///
    /// Source: IEC 60028 for copper; aluminium after IEC 60889 from memory (see [`Material::status`]).
    pub fn material(self) -> &'static Material {
        static MATERIALS: LazyLock<[Material; 2]> =
            LazyLock::new(|| [Conductor::Copper, Conductor::Aluminium].map(load_material));
        &MATERIALS[self as usize]
    }
}

/// What a metal's resistance follows from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Resistivity at 20 °C in ohm m.
    pub resistivity_20c_ohm_m: f64,
    /// Temperature coefficient of resistance at 20 °C per K.
    pub temp_coeff_20c_per_k: f64,
    /// Temperature in °C at which the straight line of resistance would meet zero, sign reversed (234.5 for copper).
    pub inferred_zero_c: f64,
    /// How the numbers are known.
    pub status: Status,
}

fn load_material(conductor: Conductor) -> Material {
    let rows = catalogue::rows("conductor_materials", |t, row| {
        let metal = t.parsed(row, "conductor", "a conductor", Conductor::from_name)?;
        let material = Material {
            resistivity_20c_ohm_m: t.number(row, "resistivity_20c_ohm_mm2_per_m")? / 1e6,
            temp_coeff_20c_per_k: t.number(row, "temp_coeff_20c_per_k")?,
            inferred_zero_c: t.number(row, "inferred_zero_c")?,
            status: t.status(row).unwrap_or(Status::Typical),
        };
        Ok((metal, material))
    });
    // Invariant: a test asks for both metals.
    let found = rows.into_iter().find(|(metal, _)| *metal == conductor);
    found.unwrap_or_else(|| panic!("no material row for {}", conductor.name())).1
}

/// How a conductor is stranded (IEC 60228).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StrandClass {
    /// Stranded, for fixed installation: class 2.
    #[serde(alias = "class_2")]
    Stranded,
    /// Flexible: class 5.
    #[default]
    #[serde(alias = "class_5")]
    Flexible,
}

/// A resistance per metre and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct ResistancePerMetre {
    /// Resistance at 20 °C in ohm per metre of conductor, one way.
    pub ohm_per_m: f64,
    /// The table or formula it comes from, in words.
    pub basis: String,
}

struct StandardSize {
    area_mm2: f64,
    copper_class_2: f64,
    copper_class_5: f64,
    aluminium_class_2: Option<f64>,
}

static STANDARD_SIZES: LazyLock<Vec<StandardSize>> = LazyLock::new(|| {
    catalogue::rows("iec60228", |t, row| {
        Ok(StandardSize {
            area_mm2: t.number(row, "area_mm2")?,
            copper_class_2: t.number(row, "cu_class_2")?,
            copper_class_5: t.number(row, "cu_class_5")?,
            aluminium_class_2: t.optional(row, "al_class_2")?,
        })
    })
});

/// The standard metric sizes in mm², rising. Source: IEC 60228:2004.
pub fn standard_sizes_mm2() -> impl Iterator<Item = f64> {
    STANDARD_SIZES.iter().map(|size| size.area_mm2)
}

/// Resistance per metre at 20 °C.
///
/// A standard metric size takes the standard's maximum; any other size, every gauge, and flexible aluminium take
/// resistivity / area, without an allowance for the lay of strands. Copper's maxima lie 4 to 16 % above that; `basis`
/// says which it is.
///
/// Source: IEC 60228:2004 Tables 2 and 3; ASTM B258; IEC 60028 (aluminium's resistivity from memory).
///
/// ```
/// use stallpoint::quantity::ConductorSize;
/// use stallpoint::tables::conductors::{Conductor, StrandClass, max_resistance_per_m};
/// let size = ConductorSize::Metric { mm2: 35.0 };
/// let r = max_resistance_per_m(size, StrandClass::Flexible, Conductor::Copper);
/// assert_eq!(r.ohm_per_m, 0.554e-3);
/// assert_eq!(r.basis, "IEC 60228 maximum for 35 mm2 flexible (class 5) copper");
/// ```
pub fn max_resistance_per_m(size: ConductorSize, class: StrandClass, conductor: Conductor) -> ResistancePerMetre {
    let (class_name, metal) = (class_name(class), conductor.name());
    if let Some(ohm_per_km) = table_maximum(size, class, conductor) {
        let basis = format!("IEC 60228 maximum for {size} {class_name} {metal}");
        return ResistancePerMetre { ohm_per_m: ohm_per_km / 1e3, basis };
    }
    let material = conductor.material();
    let standard = match conductor {
        Conductor::Copper => "IEC 60028",
        Conductor::Aluminium => "IEC 60889, from memory",
    };
    let gauge = if matches!(size, ConductorSize::Awg { .. }) { " (ASTM B258)" } else { "" };
    ResistancePerMetre {
        ohm_per_m: material.resistivity_20c_ohm_m / size.area_m2(),
        basis: format!("{metal} resistivity ({standard}) over the area of {size}{gauge}"),
    }
}

fn table_maximum(size: ConductorSize, class: StrandClass, conductor: Conductor) -> Option<f64> {
    let ConductorSize::Metric { mm2 } = size else {
        return None;
    };
    // A size that came through m2 may be off in its last bits.
    let row = STANDARD_SIZES.iter().find(|s| (s.area_mm2 - mm2).abs() <= 1e-9 * mm2)?;
    match (conductor, class) {
        (Conductor::Copper, StrandClass::Stranded) => Some(row.copper_class_2),
        (Conductor::Copper, StrandClass::Flexible) => Some(row.copper_class_5),
        (Conductor::Aluminium, StrandClass::Stranded) => row.aluminium_class_2,
        (Conductor::Aluminium, StrandClass::Flexible) => None,
    }
}

fn class_name(class: StrandClass) -> &'static str {
    match class {
        StrandClass::Stranded => "stranded (class 2)",
        StrandClass::Flexible => "flexible (class 5)",
    }
}

/// Resistance at a temperature from that at 20 °C.
///
/// Equation: R = R20 (1 + α20 (T − 20 °C)).
///
/// Arguments: `r20` resistance at 20 °C in any unit, `temperature_c` in °C.
///
/// Limits: the straight line holds from about −50 °C to the insulation's limit; below −200 °C it means nothing.
///
/// Source: IEC 60028.
///
/// ```
/// use stallpoint::tables::conductors::{Conductor, resistance_at};
/// assert_eq!(resistance_at(1.0, 120.0, Conductor::Copper), 1.393);
/// ```
pub fn resistance_at(r20: f64, temperature_c: f64, conductor: Conductor) -> f64 {
    r20 * (1.0 + conductor.material().temp_coeff_20c_per_k * (temperature_c - 20.0))
}
