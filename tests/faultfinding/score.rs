//! The finder against faults on drives it has not seen.

use stallpoint::studies::faultfinding::{Order, ScoreOptions, score};

use super::support::table;

/// With a table of four draws; `cargo run -p stallpoint --example fault_score` prints the figures with eight.
#[test]
fn prop_the_fault_comes_first() {
    let found = score(&table(), &ScoreOptions::default()).unwrap();
    println!("{found:#?}");
    let counted = (found.cases - found.left_out) as f64;
    assert!(found.first as f64 >= 0.85 * counted, "{} of {counted}", found.first);
    assert!(found.top_three as f64 >= 0.93 * counted, "{} of {counted}", found.top_three);
    let top_down = score(&table(), &ScoreOptions { order: Order::TopDown, ..ScoreOptions::default() }).unwrap();
    assert!(found.measurements < top_down.measurements, "{} {}", found.measurements, top_down.measurements);
}
