//! Ampacity: only rows with a source.
//!
//! There is no general table of single cables in free air here, because none with a source is at hand. What there is:
//! the current ratings of portable trailing cables in US mines, a sanity band for flexible copper cables. They are
//! for the cables that regulation covers; a vehicle's cable has its maker's rating.

use super::catalogue;
use crate::quantity::ConductorSize;
use std::sync::LazyLock;

/// Ratings of a trailing cable of one conductor size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrailingCable {
    /// Conductor size.
    pub size: ConductorSize,
    /// Single-conductor cable: ampacity in A.
    pub single_ampacity_a: Option<f64>,
    /// Single-conductor cable: largest dual-element fuse in A.
    pub single_max_fuse_a: Option<f64>,
    /// Two-conductor cable: ampacity in A.
    pub two_conductor_ampacity_a: f64,
    /// Two-conductor cable: largest dual-element fuse in A.
    pub two_conductor_max_fuse_a: f64,
}

/// The ratings of trailing cables from 14 AWG to 4/0.
///
/// Limits: portable trailing cables in coal mines; not a rating for any other cable.
///
/// Source: 30 CFR 75.601-3.
///
/// ```
/// let cables = stallpoint::tables::ampacity::trailing_cables();
/// assert_eq!(cables.last().unwrap().single_ampacity_a, Some(315.0));
/// ```
pub fn trailing_cables() -> &'static [TrailingCable] {
    static ROWS: LazyLock<Vec<TrailingCable>> = LazyLock::new(|| {
        catalogue::rows("trailing_cable", |t, row| {
            Ok(TrailingCable {
                size: t.parsed(row, "awg", "a gauge", |awg| format!("{awg} AWG").parse().ok())?,
                single_ampacity_a: t.optional(row, "single_ampacity_a")?,
                single_max_fuse_a: t.optional(row, "single_max_fuse_a")?,
                two_conductor_ampacity_a: t.number(row, "two_conductor_ampacity_a")?,
                two_conductor_max_fuse_a: t.number(row, "two_conductor_max_fuse_a")?,
            })
        })
    });
    &ROWS
}

/// The row of [`trailing_cables`] for a gauge; `None` for metric and unlisted sizes.
pub fn trailing_cable(size: ConductorSize) -> Option<&'static TrailingCable> {
    trailing_cables().iter().find(|row| row.size == size)
}
