//! Time–current gates that standards set for breakers and fuses.

use super::catalogue;
use super::error::TableError;
use super::loader::{Status, Table};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// What a standard asks of a device at one multiple of its rated current.
#[derive(Debug, Clone, PartialEq)]
pub struct Gate {
    /// The standard.
    pub standard: &'static str,
    /// Multiple of the rated current.
    pub multiple: f64,
    /// The device must not open before this, s; infinite when it must never.
    pub holds_for: Option<f64>,
    /// The device must have opened by this, s.
    pub trips_within: Option<f64>,
    /// How well the row is known: one from memory is no limit.
    pub status: Status,
}

/// Type of a miniature breaker: where its magnetic element operates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
pub enum MiniatureType {
    /// 3 to 5 times the rated current.
    B,
    /// 5 to 10 times.
    C,
    /// 10 to 20 times.
    D,
}

impl MiniatureType {
    /// Every type.
    pub const ALL: [Self; 3] = [Self::B, Self::C, Self::D];

    /// Its letter.
    pub fn letter(self) -> char {
        match self {
            Self::B => 'B',
            Self::C => 'C',
            Self::D => 'D',
        }
    }
}

/// Class of a road-vehicle fuse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FuseClass {
    /// Small blade, 2 to 30 A.
    BladeMini,
    /// Regular blade, 3 to 40 A.
    BladeAto,
    /// Large blade, 20 to 80 A.
    BladeMaxi,
    /// Bolt-down, 40 to 500 A: its gates are from memory, use your data sheet.
    BoltHighCurrent,
}

impl FuseClass {
    /// Every class.
    pub const ALL: [Self; 4] = [Self::BladeMini, Self::BladeAto, Self::BladeMaxi, Self::BoltHighCurrent];

    /// Its name as in files: "blade_mini".
    pub fn name(self) -> &'static str {
        match self {
            Self::BladeMini => "blade_mini",
            Self::BladeAto => "blade_ato",
            Self::BladeMaxi => "blade_maxi",
            Self::BoltHighCurrent => "bolt_high_current",
        }
    }
}

/// Values that data sheets of a class print as typical.
#[derive(Debug, Clone, PartialEq)]
pub struct FuseTypical {
    /// Rated current, A.
    pub rating: f64,
    /// Cold resistance, ohm.
    pub cold_resistance: f64,
    /// Voltage drop at the rated current, V.
    pub voltage_drop: Option<f64>,
    /// Melting I²t, A²s.
    pub melting_i2t: f64,
}

/// A row with what it applies to.
struct Row {
    of: String,
    gate: Gate,
    applies: fn(f64, f64, f64) -> bool,
    from: f64,
    to: f64,
}

impl Row {
    /// Reads what all gate tables share; `of` names the column that tells rows apart.
    fn read(t: &Table, row: usize, of: &str, from: &str, standard: &'static str) -> Result<Self, TableError> {
        let holds_for = match t.text(row, "holds_s")? {
            "always" => Some(f64::INFINITY),
            _ => t.optional(row, "holds_s")?,
        };
        let (multiple, trips_within) = (t.number(row, "multiple")?, t.optional(row, "trips_s")?);
        // Invariant: the row exists, for it is being read.
        let status = t.status(row).unwrap_or(Status::Memory);
        Ok(Self {
            of: t.text(row, of)?.to_owned(),
            gate: Gate { standard, multiple, holds_for, trips_within, status },
            applies: if from == "above_a" {
                |i, from, to| i > from && i <= to
            } else {
                |i, from, to| i >= from && i <= to
            },
            from: t.number(row, from)?,
            to: t.number(row, "to_a")?,
        })
    }
}

fn gates(rows: &[Row], rated_current: f64, of: impl Fn(&str) -> bool) -> Vec<Gate> {
    let fits = |row: &&Row| of(&row.of) && (row.applies)(rated_current, row.from, row.to);
    rows.iter().filter(fits).map(|row| row.gate.clone()).collect()
}

static MINIATURE: LazyLock<Vec<Row>> = LazyLock::new(|| {
    catalogue::rows("miniature_breaker_gates", |t, row| Row::read(t, row, "type", "above_a", "IEC 60898-1"))
});

static CALIBRATION: LazyLock<Vec<Row>> = LazyLock::new(|| {
    catalogue::rows("breaker_calibration", |t, row| {
        let standard = match t.text(row, "standard")? {
            "UL 489" => "UL 489",
            _ => "UL 248-14",
        };
        Row::read(t, row, "standard", "above_a", standard)
    })
});

static FUSES: LazyLock<Vec<Row>> = LazyLock::new(|| {
    catalogue::rows("fuse_gates", |t, row| {
        let bolted = t.text(row, "class")? == "bolt_high_current";
        Row::read(t, row, "class", "from_a", if bolted { "ISO 8820-5" } else { "ISO 8820-3" })
    })
});

/// Gates of a miniature breaker of a type and rated current (A); none above 125 A.
///
/// Gate b (1.45 times) follows on gate a in the standard; a device that meets it from cold meets it then too.
///
/// Limits: for alternating current; the 7200 s above 63 A are from memory.
///
/// Source: IEC 60898-1 Table 7.
///
/// ```
/// use stallpoint::tables::trip_gates::{MiniatureType, iec_60898};
/// let gates = iec_60898(MiniatureType::C, 16.0);
/// assert_eq!((gates[4].multiple, gates[4].trips_within), (10.0, Some(0.1)));
/// ```
pub fn iec_60898(kind: MiniatureType, rated_current: f64) -> Vec<Gate> {
    gates(&MINIATURE, rated_current, |types| types.contains(kind.letter()))
}

/// Calibration limits of a moulded-case breaker of a rated current (A).
///
/// Source: UL 489; most limits above 50 A are from memory.
pub fn ul_489(rated_current: f64) -> Vec<Gate> {
    gates(&CALIBRATION, rated_current, |standard| standard == "UL 489")
}

/// Calibration limits of a fuse of a rated current (A); none above 60 A.
///
/// Source: UL 248-14.
pub fn ul_248_14(rated_current: f64) -> Vec<Gate> {
    gates(&CALIBRATION, rated_current, |standard| standard == "UL 248-14")
}

/// Gates of a road-vehicle fuse of a class and rated current (A); none outside the class's ratings.
///
/// Source: ISO 8820-3; SAE J1284, J2077, J1888; bolt-down ones ISO 8820-5, from memory.
///
/// ```
/// use stallpoint::tables::trip_gates::{FuseClass, road_vehicle_fuse};
/// let gates = road_vehicle_fuse(FuseClass::BladeMaxi, 60.0);
/// assert_eq!((gates[2].multiple, gates[2].holds_for, gates[2].trips_within), (2.0, Some(2.0), Some(50.0)));
/// ```
pub fn road_vehicle_fuse(class: FuseClass, rated_current: f64) -> Vec<Gate> {
    gates(&FUSES, rated_current, |of| of == class.name())
}

/// What data sheets of a class print as typical; none for a class of which none was read.
///
/// Source: public data sheets.
pub fn fuse_typicals(class: FuseClass) -> Vec<FuseTypical> {
    static ROWS: LazyLock<Vec<(String, FuseTypical)>> = LazyLock::new(|| {
        catalogue::rows("fuse_typicals", |t, row| {
            let typical = FuseTypical {
                rating: t.number(row, "rating_a")?,
                cold_resistance: 1e-3 * t.number(row, "cold_resistance_mohm")?,
                voltage_drop: t.optional(row, "voltage_drop_mv")?.map(|mv| 1e-3 * mv),
                melting_i2t: t.number(row, "melting_i2t_a2s")?,
            };
            Ok((t.text(row, "class")?.to_owned(), typical))
        })
    });
    ROWS.iter().filter(|(of, _)| of == class.name()).map(|(_, typical)| typical.clone()).collect()
}
