//! A cable's cross-section as it is written on the cable.

use super::awg::awg_area_m2;
use super::convert;
use super::error::QuantityError;
use super::into_quantity::Quantity;
use super::kind::{Kind, PLAIN};
use super::number;
use super::serial;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// 4/0 to 40, our choice: the ends of what this library's circuits can need; ASTM B258's formula holds throughout.
const AWG_RANGE: std::ops::RangeInclusive<i32> = -3..=40;

const KIND: Kind = Kind { name: "conductor size", unit: "m2", example: "35 mm2", dims: [2, 0, 0, 0, 0], ..PLAIN };

/// A conductor's size, metric ("35 mm2") or American wire gauge ("2 AWG", "2/0 AWG", "AWG 2").
///
/// The two are kept apart because they select different tables. A plain number is an area in m².
///
/// ```
/// use stallpoint::quantity::ConductorSize;
/// let size: ConductorSize = "2/0 AWG".parse()?;
/// assert_eq!(size, ConductorSize::Awg { n: -1 });
/// assert_eq!("35 mm²".parse::<ConductorSize>()?.to_string(), "35 mm2");
/// # Ok::<(), stallpoint::quantity::QuantityError>(())
/// ```
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum ConductorSize {
    /// A metric cross-section.
    Metric {
        /// Metal cross-section in mm².
        mm2: f64,
    },
    /// An American wire gauge.
    Awg {
        /// Gauge number; 1/0 is 0, 2/0 is −1, 4/0 is −3.
        n: i32,
    },
}

impl ConductorSize {
    /// The metal cross-section in m².
    pub fn area_m2(self) -> f64 {
        match self {
            ConductorSize::Metric { mm2 } => mm2 * 1e-6,
            ConductorSize::Awg { n } => awg_area_m2(n),
        }
    }

    /// The metal cross-section in mm².
    pub fn area_mm2(self) -> f64 {
        match self {
            ConductorSize::Metric { mm2 } => mm2,
            ConductorSize::Awg { n } => awg_area_m2(n) * 1e6,
        }
    }

    fn metric(mm2: f64, given: &str) -> Result<Self, QuantityError> {
        if mm2 > 0.0 && mm2.is_finite() {
            Ok(ConductorSize::Metric { mm2 })
        } else {
            Err(out_of_range(given, "its cross-section has to be above zero"))
        }
    }
}

impl Quantity for ConductorSize {
    const NAME: &'static str = KIND.name;
    const UNIT: &'static str = KIND.unit;
    const EXAMPLE: &'static str = KIND.example;
    fn si(self) -> f64 {
        self.area_m2()
    }

    fn try_from_si(value: f64) -> Result<Self, QuantityError> {
        // By the decimal text, so that 35e-6 is 35 mm2 and not its neighbour.
        let given = serial::shortest(convert::finite(value, &KIND)?);
        let mm2 = number::split(&given, &KIND)?.scaled(6);
        Self::metric(mm2, &format!("{given} m2"))
    }
}

impl FromStr for ConductorSize {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let given = text.trim();
        match without_awg(given) {
            Some(gauge) => gauge_number(gauge, given).map(|n| ConductorSize::Awg { n }),
            None => Self::metric(convert::read(given, &KIND, 6)?, given),
        }
    }
}

/// The text before or after "AWG", if that word is there.
fn without_awg(given: &str) -> Option<&str> {
    let lower = given.to_ascii_lowercase();
    if lower.ends_with("awg") {
        Some(given[..given.len() - 3].trim())
    } else if lower.starts_with("awg") {
        Some(given[3..].trim())
    } else {
        None
    }
}

fn gauge_number(gauge: &str, given: &str) -> Result<i32, QuantityError> {
    let unreadable =
        || out_of_range(given, "a gauge is a whole number or 1/0 to 4/0, for example \"2 AWG\" or \"2/0 AWG\"");
    let whole = |text: &str| {
        if text.bytes().all(|b| b.is_ascii_digit()) { text.parse::<i32>().ok() } else { None }
    };
    let n = if let Some(zeros) = gauge.strip_suffix("/0") {
        let zeros = whole(zeros).filter(|z| *z > 0).ok_or_else(unreadable)?;
        1 - zeros
    } else if !gauge.is_empty() && gauge.bytes().all(|b| b == b'0') {
        // "00" is 2/0; no gauge has more zeros than the range check lets through.
        1 - i32::try_from(gauge.len()).map_err(|_| unreadable())?
    } else {
        whole(gauge).ok_or_else(unreadable)?
    };
    if AWG_RANGE.contains(&n) {
        Ok(n)
    } else {
        Err(out_of_range(given, "gauges go from 4/0 to 40; give other sizes in mm2, for example \"150 mm2\""))
    }
}

fn out_of_range(given: &str, reason: &'static str) -> QuantityError {
    QuantityError::OutOfRange { given: given.to_owned(), name: KIND.name, reason }
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ConductorSize::Metric { mm2 } => serial::show(f, *mm2, "mm2"),
            ConductorSize::Awg { n } if *n <= 0 => f.pad(&format!("{}/0 AWG", 1 - n)),
            ConductorSize::Awg { n } => f.pad(&format!("{n} AWG")),
        }
    }
}

impl Serialize for ConductorSize {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ConductorSize {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        serial::read(deserializer)
    }
}

impl JsonSchema for ConductorSize {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ConductorSize".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let mut schema = serial::schema::<Self>();
        schema.insert("examples".to_owned(), serde_json::json!(["35 mm2", "2 AWG", "2/0 AWG"]));
        schema
    }
}
