//! An arc that no current holds up breaks off once the gap is full.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Inductor, Resistor, Switch, VoltageSource};

/// Events of a switch that opens at 10 ms in 25 V and a resistance, and the current at the end.
fn opened(resistance: &str, inductance: &str) -> (Vec<String>, f64) {
    let mut c = Circuit::new();
    c.add("source", VoltageSource::constant("25 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    c.add("load", Resistor::new(resistance).unwrap(), [("a", "p"), ("b", "coil")]).unwrap();
    c.add("inductance", Inductor::new(inductance).unwrap(), [("a", "coil"), ("b", "m")]).unwrap();
    let switch = Switch::worked([(0.0, 0.01)]);
    c.add("switch", switch, [("a", "m"), ("b", "ground")]).unwrap();
    let run = c.transient(0.05, &TransientOptions::default()).unwrap();
    let events = run.events.iter().map(|event| format!("{:.4} {}", event.time, event.what)).collect();
    (events, run.current("switch").unwrap()[run.len() - 1])
}

#[test]
fn exact_by_the_minimum_arc_current() {
    // At the full gap the arc has 12 V + 1.5 kV/m · 3 mm = 16.5 V: 25 V leave it 8.5 V / R. The minimum is 0.4 A.
    let (events, current) = opened("30 ohm", "1 uH"); // 0.28 A
    assert_eq!(events, ["0.0100 opens", "0.0150 arc breaks off", "0.0150 arc goes out"]);
    assert!(current < 1e-6, "{current}");
    let (events, current) = opened("10 ohm", "1 uH"); // 0.85 A
    assert_eq!(events, ["0.0100 opens", "0.0150 arc persists at full gap"]);
    assert!((current - 8.5 / 10.01).abs() < 1e-6, "{current}");
}

/// Of a coil's current some is left when the gap is full; it falls, and the arc breaks off where it is at the minimum. The
/// coil's 0.4 A then fall to nothing against the striking voltage of 12 V + 300 kV/m · 3 mm, less the source's 25 V.
#[test]
fn exact_when_the_current_has_fallen_to_it() {
    let (events, current) = opened("30 ohm", "0.3 H");
    // The arc's voltage rises over 5 ms by 4.5 V; then i falls from i_0 towards 8.5 V / 30.01 Ω with L/R.
    let (r, l, rise) = (30.0 + 0.01, 0.3, 4.5 / 5e-3);
    let decay = |t: f64| (-r * t / l).exp();
    let settled = |v: f64| v / r;
    let closed = 25.0 / (30.0 + 0.3e-3) * (1.0 - decay(10e-3));
    // i' L + r i = 13 V - rise t: a ramp and its lag.
    let lag = rise * l / r;
    let full = settled(13.0 + lag - rise * 5e-3) + (closed - settled(13.0 + lag)) * decay(5e-3);
    let last = settled(8.5);
    let out = 0.015 + l / r * ((full - last) / (0.4 - last)).ln();
    assert_eq!(events[..2], ["0.0100 opens", "0.0150 arc persists at full gap"]);
    let gone = out + l * 0.4 / (912.0 - 25.0);
    assert_eq!(events[2..], [format!("{out:.4} arc breaks off"), format!("{gone:.4} arc goes out")]);
    assert!(current.abs() < 1e-6, "{current}");
}
