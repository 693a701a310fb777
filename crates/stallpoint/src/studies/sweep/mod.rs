//! Sweeps: a drive started over a grid of values, one row of figures for every case.

mod axis;
mod cases;
mod csv;
mod grid;
pub(crate) mod labels;
mod measure;
pub(crate) mod paths;
mod run;
mod table;

pub use axis::Axis;
pub use labels::{AxisLabels, Coordinates, KeyLabels};
pub use measure::{Measure, MeasureKind};
pub use run::{SweepOptions, sweep};
pub use table::{Column, SweepTable};
