//! Properties that hold for any circuit.

use proptest::prelude::*;
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Capacitor, CurrentSource, Inductor, Resistor, VoltageSource};

/// Name, first and second node of every part.
type Ends = Vec<(String, String, String)>;

/// A tree of resistors on a source with some more resistors across it and a current source.
fn network(branches: &[(u16, f64)], chords: &[(u16, u16, f64)], amps: f64) -> (Circuit, Ends) {
    let mut circuit = super::build::with_source(VoltageSource::constant(24.0).unwrap());
    let name = |k: usize| match k {
        0 => "ground".to_string(),
        1 => "p".to_string(),
        _ => format!("n{k}"),
    };
    let nodes = branches.len() + 2;
    let tree = branches.iter().enumerate().map(|(k, &(to, exponent))| (k + 2, to as usize % (k + 2), exponent));
    let across = chords.iter().map(|&(a, b, exponent)| (a as usize % nodes, b as usize % nodes, exponent));
    let mut ends: Ends = vec![("source".into(), "p".into(), "ground".into())];
    for (k, (a, b, exponent)) in tree.chain(across).enumerate() {
        let resistor = Resistor::new(10f64.powf(exponent)).unwrap();
        let (part, a, b) = (format!("r{k}"), name(a), name(b));
        circuit.add(&part, resistor, [("a", a.as_str()), ("b", b.as_str())]).unwrap();
        ends.push((part, a, b));
    }
    let last = name(nodes - 1);
    let source = CurrentSource::constant(amps).unwrap();
    circuit.add("drain", source, [("plus", last.as_str()), ("minus", "ground")]).unwrap();
    ends.push(("drain".into(), last, "ground".into()));
    (circuit, ends)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn prop_tellegen_in_any_resistive_network(
        branches in prop::collection::vec((any::<u16>(), -3.0..5.0), 1..25),
        chords in prop::collection::vec((any::<u16>(), any::<u16>(), -3.0..5.0), 0..12),
        amps in -5.0..5.0,
    ) {
        let (circuit, ends) = network(&branches, &chords, amps);
        let op = circuit.operating_point().unwrap();
        let (sum, magnitude) = op.power_balance(0);
        prop_assert!(sum.abs() <= 1e-9 * magnitude, "{sum:e} of {magnitude:e}");
        // Currents at every node cancel, added up part by part; each is a difference of voltages and has their rounding.
        let volts = circuit.node_names().iter().map(|node| op.voltage(node).unwrap().abs()).fold(0.0, f64::max);
        let ohms = branches.iter().map(|b| b.1).chain(chords.iter().map(|c| c.2)).fold(f64::INFINITY, f64::min);
        let rounding = 1e-15 * volts / 10f64.powf(ohms);
        for node in circuit.node_names() {
            let (mut sum, mut magnitude) = (0.0, 0.0_f64);
            for (part, first, second) in &ends {
                let current = op.current(part).unwrap();
                sum += f64::from(u8::from(first == node)) * current - f64::from(u8::from(second == node)) * current;
                magnitude = magnitude.max(current.abs());
            }
            prop_assert!(sum.abs() <= 1e-9 * magnitude + rounding, "{node}: {sum:e} of {magnitude:e}");
        }
    }

    #[test]
    fn prop_dense_output_at_the_rows_is_the_rows(
        corners in prop::collection::vec((0.01..0.2, -20.0..20.0), 2..6),
        ohms in 0.05..5.0,
        rtol in -6.0..-3.0,
    ) {
        let mut t = 0.0;
        let times: Vec<f64> = corners.iter().map(|corner| { t += corner.0; t }).collect();
        let values: Vec<f64> = corners.iter().map(|corner| corner.1).collect();
        let mut circuit = super::build::with_source(VoltageSource::table(times, values).unwrap());
        super::build::resistor(&mut circuit, "resistor", ohms, "p", "m");
        circuit.add("coil", Inductor::new("1 mH").unwrap(), [("a", "m"), ("b", "n")]).unwrap();
        circuit.add("capacitor", Capacitor::new("1 mF").unwrap(), [("a", "n"), ("b", "ground")]).unwrap();
        let run = circuit.transient(0.5, &TransientOptions::rtol(10f64.powf(rtol))).unwrap();
        let sampled = run.sample(run.time()).unwrap();
        let (rows, samples) = (run.voltage("n").unwrap(), sampled.voltage("n").unwrap());
        for row in 0..run.len() {
            // At an event the later row counts.
            let last = run.time().iter().rposition(|&t| t == run.time()[row]).unwrap();
            prop_assert_eq!(samples[row].to_bits(), rows[last].to_bits());
        }
    }
}
