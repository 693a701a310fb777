//! How the ambient rescales a rated current.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::Temperature;

/// What the ambient makes of the rated current: a factor by temperature, from the device's data sheet.
///
/// In a file it is either of
/// ```toml
/// derating.linear = { reference_c = "40 degC", per_kelvin = -0.004 }
/// derating.table = [[0.0, 1.1], [40.0, 1.0], [60.0, 0.9]]
/// ```
///
/// Limits: straight between the rows of a table and not beyond them; there is no default, for devices differ.
///
/// # Example
/// ```
/// use stallpoint::parts::Derating;
///
/// let derating = Derating::Table(vec![[0.0, 1.1], [40.0, 1.0], [60.0, 0.9]]);
/// assert!((derating.factor(50.0).unwrap() - 0.95).abs() < 1e-12);
/// assert_eq!(derating.factor(70.0), None);
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Derating {
    /// By a coefficient.
    Linear(LinearDerating),
    /// By rows of [ambient in °C, factor], temperatures rising.
    Table(Vec<[f64; 2]>),
}

/// `1 + per_kelvin (T - reference_c)`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LinearDerating {
    /// Ambient for which the rated current holds, °C.
    pub reference_c: Temperature,
    /// Change of the factor with each kelvin, 1/K; below zero for a thermal device.
    pub per_kelvin: f64,
}

impl Derating {
    /// The factor at an ambient in °C; none outside a table's rows or where a straight line has come down to zero.
    pub fn factor(&self, ambient_c: f64) -> Option<f64> {
        let factor = match self {
            Self::Linear(line) => 1.0 + line.per_kelvin * (ambient_c - line.reference_c.si()),
            Self::Table(rows) => {
                let above = rows.partition_point(|row| row[0] < ambient_c).max(1);
                let ([t0, f0], [t1, f1]) = (*rows.get(above - 1)?, *rows.get(above)?);
                if !(t0..=t1).contains(&ambient_c) {
                    return None;
                }
                f0 + (f1 - f0) * (ambient_c - t0) / (t1 - t0)
            }
        };
        (factor > 0.0).then_some(factor)
    }

    fn check(&self) -> Result<(), PartError> {
        let Self::Table(rows) = self else { return Ok(()) };
        let rising = rows.windows(2).all(|pair| pair[0][0] < pair[1][0]);
        if rows.len() >= 2 && rising && rows.iter().flatten().all(|value| value.is_finite()) {
            return Ok(());
        }
        Err(PartError::Description {
            problem: "`derating.table` is not a table over temperature".into(),
            advice: "give two or more rows of [ambient in degC, factor] with rising temperatures".into(),
        })
    }
}

/// The factor on the rated current; 1 where nothing is said.
pub(super) fn factor(derating: Option<&Derating>, ambient_c: Option<Temperature>) -> f64 {
    derating.zip(ambient_c).and_then(|(derating, ambient)| derating.factor(ambient.si())).unwrap_or(1.0)
}

/// Refuses a derating without an ambient, an ambient without a derating and an ambient that has no factor.
pub(super) fn check(derating: Option<&Derating>, ambient_c: Option<Temperature>) -> Result<(), PartError> {
    let problem = match (derating, ambient_c) {
        (None, None) => return Ok(()),
        (None, Some(_)) => "`ambient_c` has no effect without `derating`",
        (Some(_), None) => "`derating` has no effect without `ambient_c`",
        (Some(derating), Some(ambient)) => {
            derating.check()?;
            return match derating.factor(ambient.si()) {
                Some(_) => Ok(()),
                None => Err(PartError::range("ambient_c", ambient, "where `derating` has a factor above zero")),
            };
        }
    };
    Err(PartError::Description { problem: problem.into(), advice: "give both, or leave out both".into() })
}
