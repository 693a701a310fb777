//! Energy of whole runs: contacts, arcs, coils, suppressors, work on the armature.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::{Coil, RestPosition, ReversingContactor, Suppression, VoltageSource};

use super::drive::{TERMINALS, contactor, pulses, residual, with_motor};
use super::ideal_switch::IdealSwitch;

fn residual_at(circuit: &Circuit, until: f64, rtol: f64) -> f64 {
    let run = circuit.transient(until, &TransientOptions::rtol(rtol)).unwrap();
    let found = residual(&run);
    println!("{found:.2e} at {rtol:e}, {} steps", run.counters.steps);
    found
}

fn plugging(rest: RestPosition) -> Circuit {
    // Wet contacts, 1e-7 S: with 1e-9 S an open motor has L G = 1e-13 s, and a run at 1e-8 does not get over it.
    let mut contactor = contactor(rest);
    contactor.contacts.open_conductance = "0.1 uS".parse().unwrap();
    with_motor(contactor, pulses(&[(0.0, 0.5)]), pulses(&[(0.51, 1.2)]))
}

/// A contactor alone whose coil is cut at 0.1 s: its current goes on through the suppressor while the armature moves back.
fn cut(suppression: Suppression) -> Circuit {
    let base = contactor(RestPosition::Braked);
    let coil = Coil { suppression, ..base.coil.clone() };
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12.6 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("switch", IdealSwitch::opens_at(0.1), [("a", "p"), ("b", "coil_a")]).unwrap();
    let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
    circuit.add("contactor", ReversingContactor { coil, ..base }, nodes).unwrap();
    circuit
}

#[test]
fn exact_energy_adds_up_when_the_armature_moves() {
    let suppressions = [
        Suppression::None,
        Suppression::Diode,
        Suppression::Resistor { resistance: "100 ohm".parse().unwrap() },
        Suppression::DiodeAndResistor { resistance: "47 ohm".parse().unwrap() },
        Suppression::Clamp { voltage: "24 V".parse().unwrap() },
    ];
    for suppression in suppressions {
        println!("{suppression:?}");
        assert!(residual_at(&cut(suppression), 0.2, 1e-8) < 1e-6);
    }
}

#[test]
fn exact_energy_adds_up_through_plugging_and_falls_with_the_tolerance() {
    for rest in [RestPosition::Braked, RestPosition::Open] {
        let circuit = plugging(rest);
        let found = [1e-4, 1e-6, 1e-8].map(|rtol| residual_at(&circuit, 1.5, rtol));
        assert!(found[2] < 1e-6, "{found:?}");
        assert!(found[0] > 3.0 * found[1] && found[1] > 3.0 * found[2], "{found:?}");
    }
}
