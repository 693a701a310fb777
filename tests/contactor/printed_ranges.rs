//! Coils of switchgear: the printed bands of their pick-up and drop-out voltage, run through.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Coil, ReversingContactor, VoltageSource};

use super::drive::TERMINALS;

/// Time in which the source rises from nothing to the rated voltage, s: slow, so that the coil's inductance does not count.
const RAMP: f64 = 100.0;

/// Voltages at which a contactor pulls in on a slow rise and drops out on a slow fall.
fn ramped(rated: f64, pull_in: f64, drop_out: f64) -> [f64; 2] {
    let coil = Coil::new(rated, rated * rated / 10.0).unwrap(); // 10 W, invented
    let contactor = ReversingContactor::new(coil, pull_in, drop_out).unwrap();
    let mut circuit = Circuit::new();
    let source = VoltageSource::table([0.0, RAMP, 2.0 * RAMP], [0.0, rated, 0.0]).unwrap();
    circuit.add("source", source, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
    let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
    circuit.add("contactor", contactor, nodes).unwrap();
    let run = circuit.transient(2.0 * RAMP, &TransientOptions::default()).unwrap();
    let times = |word: &str| {
        run.events.iter().filter(|event| event.what.contains(word)).map(|event| event.time).collect::<Vec<_>>()
    };
    let volts = |time: f64| rated * (1.0 - (time / RAMP - 1.0).abs());
    // Where the two are close it chatters for a few cycles at either: the current dips as the armature closes and rises as it
    // opens. The first on the rise and the first on the fall are the device's.
    let falling = times("drops out").into_iter().find(|time| *time > RAMP).unwrap();
    [volts(times("pulls in")[0]), volts(falling)]
}

/// Printed bands (tests/reference/coil.toml, `switchgear_coil_ranges`, read): a contactor whose data sheet stands at either end of a
/// band operates inside it, for each nominal voltage; one that stands outside does not.
#[test]
fn val_contactors_operate_within_the_printed_bands_of_their_voltage() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/coil.toml");
    let file: toml::Table = std::fs::read_to_string(path).unwrap().parse().unwrap();
    let ranges = file["switchgear_coil_ranges"].as_table().unwrap();
    assert_eq!(ranges["status"].as_str(), Some("verified"));
    let of = |key: &str, k: usize| ranges[key][k].as_integer().unwrap() as f64;
    assert_eq!(ranges["nominal"].as_array().unwrap().len(), 4);
    for k in 0..4 {
        let rated = of("nominal", k);
        let inside = |volts: f64, band: &str| {
            // Half a per cent for the current's lag and the step at which the event is found.
            volts >= 0.995 * of(&format!("{band}_lo"), k) && volts <= 1.005 * of(&format!("{band}_hi"), k)
        };
        for (pull_in, drop_out) in [
            (of("pickup_lo", k), of("dropout_lo", k)),
            (of("pickup_hi", k), of("dropout_hi", k)),
            (of("pickup_hi", k), of("dropout_lo", k)),
        ] {
            let [made, released] = ramped(rated, pull_in, drop_out);
            assert!(inside(made, "pickup") && inside(released, "dropout"), "{rated} V: {made} and {released}");
            assert!(
                (made / pull_in - 1.0).abs() < 5e-3 && (released / drop_out - 1.0).abs() < 5e-3,
                "{made} {released}"
            );
        }
        let [late, early] = ramped(rated, 1.05 * of("pickup_hi", k), 0.9 * of("dropout_lo", k));
        assert!(!inside(late, "pickup") && !inside(early, "dropout"), "{rated} V: {late} and {early}");
    }
}
