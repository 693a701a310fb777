//! Open-circuit voltage against state of charge.

use super::catalogue;
use super::loader::Table;
use super::piecewise::PiecewiseLinear;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A battery's chemistry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Chemistry {
    /// Lead-acid with free electrolyte.
    FloodedLeadAcid,
    /// Lead-acid with absorbed glass mat.
    AgmLeadAcid,
    /// Lithium iron phosphate.
    LithiumIronPhosphate,
}

impl Chemistry {
    /// Every chemistry.
    pub const ALL: [Chemistry; 3] =
        [Chemistry::FloodedLeadAcid, Chemistry::AgmLeadAcid, Chemistry::LithiumIronPhosphate];

    fn table(self) -> &'static str {
        match self {
            Chemistry::FloodedLeadAcid => "ocv_flooded_lead_acid",
            Chemistry::AgmLeadAcid => "ocv_agm_lead_acid",
            Chemistry::LithiumIronPhosphate => "ocv_lithium_iron_phosphate",
        }
    }

    /// Cells in series of the battery the table is for.
    fn cells(self) -> u32 {
        match self {
            Chemistry::FloodedLeadAcid | Chemistry::AgmLeadAcid => 6,
            Chemistry::LithiumIronPhosphate => 4,
        }
    }
}

/// The open-circuit voltage of a nominal 12 V battery of [`Self::cells`] cells.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenCircuitVoltage {
    curve: PiecewiseLinear,
    cells: u32,
    table: &'static Table,
}

impl OpenCircuitVoltage {
    /// Voltage in V of the whole battery at state of charge `soc` (0 to 1; the end pieces go on outside).
    pub fn value(&self, soc: f64) -> f64 {
        self.curve.value(soc)
    }

    /// Slope in V per unit of state of charge; at a corner that of the piece above.
    pub fn slope(&self, soc: f64) -> f64 {
        self.curve.slope(soc)
    }

    /// Cells in series of the battery the curve is for; divide by it for one cell.
    pub fn cells(&self) -> u32 {
        self.cells
    }

    /// The curve itself.
    pub(crate) fn curve(&self) -> &PiecewiseLinear {
        &self.curve
    }

    /// The table's points, (state of charge, V).
    pub fn points(&self) -> &[(f64, f64)] {
        self.curve.points()
    }

    /// The table behind it, with source and status.
    pub fn table(&self) -> &'static Table {
        self.table
    }
}

/// Open-circuit voltage against state of charge, linear between the table's points.
///
/// Limits: rested battery near 25 °C; only the flooded lead-acid table has a source, the others are typical.
///
/// Source: BCI for flooded lead-acid; see [`OpenCircuitVoltage::table`].
///
/// ```
/// use stallpoint::tables::{Chemistry, open_circuit_voltage};
/// let flooded = open_circuit_voltage(Chemistry::FloodedLeadAcid);
/// assert_eq!(flooded.value(1.0), 12.65);
/// ```
pub fn open_circuit_voltage(chemistry: Chemistry) -> &'static OpenCircuitVoltage {
    static CURVES: LazyLock<[OpenCircuitVoltage; 3]> = LazyLock::new(|| Chemistry::ALL.map(load));
    &CURVES[chemistry as usize]
}

fn load(chemistry: Chemistry) -> OpenCircuitVoltage {
    let name = chemistry.table();
    let points = catalogue::rows(name, |t, row| Ok((t.number(row, "soc")?, t.number(row, "voltage_v")?)));
    // Invariant: a test loads every chemistry's table.
    let curve = PiecewiseLinear::new(points).unwrap_or_else(|| panic!("table \"{name}\" is not a rising curve"));
    OpenCircuitVoltage { curve, cells: chemistry.cells(), table: catalogue::table(name) }
}

/// Freezing point of a flooded lead-acid battery's electrolyte in °C at a state of charge, linear between the table's points.
///
/// Limits: a battery that is full at 1.265 specific gravity.
///
/// Source: BCI.
///
/// ```
/// assert_eq!(stallpoint::tables::freezing_point_c(0.5), -36.7);
/// ```
pub fn freezing_point_c(soc: f64) -> f64 {
    static CURVE: LazyLock<Option<PiecewiseLinear>> = LazyLock::new(|| {
        let points =
            catalogue::rows("freezing_flooded", |t, row| Ok((t.number(row, "soc")?, t.number(row, "freezing_c")?)));
        PiecewiseLinear::new(points)
    });
    // Invariant: a test reads the table.
    CURVE.as_ref().map_or(f64::NAN, |curve| curve.value(soc))
}
