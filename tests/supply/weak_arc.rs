//! An arc that no current holds up breaks off when the gap is full.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Resistor, Switch, VoltageSource};

/// Events of a switch that opens at 10 ms in 25 V and a resistance, and the current at the end.
fn opened(resistance: &str) -> (Vec<String>, f64) {
    let mut c = Circuit::new();
    c.add("source", VoltageSource::constant("25 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    c.add("load", Resistor::new(resistance).unwrap(), [("a", "p"), ("b", "m")]).unwrap();
    let switch = Switch::worked([(0.0, 0.01)]);
    c.add("switch", switch, [("a", "m"), ("b", "ground")]).unwrap();
    let run = c.transient(0.05, &TransientOptions::default()).unwrap();
    let events = run.events.iter().map(|event| format!("{:.4} {}", event.time, event.what)).collect();
    (events, run.current("switch").unwrap()[run.len() - 1])
}

#[test]
fn exact_by_the_minimum_arc_current() {
    // At the full gap the arc has 12 V + 1.5 kV/m · 3 mm = 16.5 V: 25 V leave it 8.5 V / R. The minimum is 0.4 A.
    let (events, current) = opened("30 ohm"); // 0.28 A
    assert_eq!(events, ["0.0100 opens", "0.0150 arc breaks off"]);
    assert!(current < 1e-6, "{current}");
    let (events, current) = opened("10 ohm"); // 0.85 A
    assert_eq!(events, ["0.0100 opens", "0.0150 arc persists at full gap"]);
    assert!((current - 8.5 / 10.01).abs() < 1e-6, "{current}");
}
