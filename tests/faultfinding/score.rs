//! The finder against faults on drives it has not seen, with the table and the limits of its documentation.

use std::sync::Arc;

use stallpoint::circuit::Flow;
use stallpoint::studies::faultfinding::{FaultTable, Order, ScoreOptions, TableOptions, score};

use super::support::boat_lift;

#[test]
fn prop_the_fault_comes_first() {
    let table = Arc::new(FaultTable::build(&boat_lift(), &TableOptions::default(), &mut |_| Flow::Continue).unwrap());
    let found = score(&table, &ScoreOptions::default()).unwrap();
    println!("{found:#?}");
    let counted = (found.cases - found.left_out) as f64;
    assert!(found.first as f64 >= 0.90 * counted, "{} of {counted}", found.first);
    assert!(found.top_three as f64 >= 0.98 * counted, "{} of {counted}", found.top_three);
    assert!(found.left_out as f64 <= 0.15 * found.cases as f64, "{} of {}", found.left_out, found.cases);
    // The quick truth will do for a comparison of lengths.
    let quick = ScoreOptions { order: Order::TopDown, detailed: false, ..ScoreOptions::default() };
    let top_down = score(&table, &quick).unwrap();
    assert!(found.measurements < top_down.measurements, "{} {}", found.measurements, top_down.measurements);
}
