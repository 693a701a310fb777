//! Refit and commissioning: which wire goes where, what swaps do, and the sheet that proves a drive good.

mod sheet;
mod swaps;
mod wiring_map;

pub use sheet::{CommissioningSheet, SheetLine, commissioning_sheet};
pub use swaps::{SwapRow, swap_table};
pub use wiring_map::{Misplaced, Wire, check_wiring, wiring_map};
