//! Interrupting capacity of breakers by the battery they hang on.

use super::catalogue;
use std::sync::LazyLock;

/// What a breaker must be able to break on a battery of some cold-cranking rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interrupting {
    /// Largest cold-cranking rating of the row, A; none for the last.
    pub up_to_a: Option<f64>,
    /// Least capacity of a main breaker, A.
    pub main_a: f64,
    /// Least capacity of a branch breaker behind it, A.
    pub branch_a: f64,
}

/// Where the table comes from.
pub const SOURCE: &str = "ABYC E-11, table V-A";

/// Least interrupting capacities on a battery (all strings together) of `cold_cranking_a`; `None` above 24 V, which the
/// table does not cover, and without a rating.
///
/// Limits: 12 V and 24 V.
///
/// Source: ABYC E-11, table V-A.
///
/// ```
/// use stallpoint::tables::interrupting::least_capacity;
/// assert_eq!(least_capacity(800.0, 12.0).unwrap().main_a, 3000.0);
/// assert!(least_capacity(800.0, 48.0).is_none());
/// ```
pub fn least_capacity(cold_cranking_a: f64, nominal_v: f64) -> Option<Interrupting> {
    static ROWS: LazyLock<Vec<Interrupting>> = LazyLock::new(|| {
        catalogue::rows("breaker_interrupting", |t, row| {
            Ok(Interrupting {
                up_to_a: t.optional(row, "up_to_a")?,
                main_a: t.number(row, "main_a")?,
                branch_a: t.number(row, "branch_a")?,
            })
        })
    });
    if !(cold_cranking_a > 0.0 && nominal_v > 0.0 && nominal_v <= 24.0) {
        return None;
    }
    ROWS.iter().find(|row| row.up_to_a.is_none_or(|limit| cold_cranking_a <= limit)).copied()
}
