//! Which swaps of wires reverse a permanent-magnet drive.

use stallpoint::circuit::Circuit;
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::{Resistor, Suppression, Switch, VoltageSource};
use stallpoint::{Run, TransientOptions};

use super::support::boat_lift;

/// The boat lift's contactor and motor on a stiff source, the signal for forward held, wires swapped as asked.
fn run(motor_wires: bool, signal_wires: bool, supply_and_ground: bool, suppression: Suppression) -> Run {
    let mut drive = boat_lift();
    drive.contactor.coil.suppression = suppression;
    let mut c = Circuit::new();
    c.add("source", VoltageSource::constant("12.6 V").unwrap(), [("plus", "plus"), ("minus", "minus")]).unwrap();
    c.add("feed", Resistor::new("40 mohm").unwrap(), [("a", "plus"), ("b", "fed")]).unwrap();
    c.add("to_ground", Resistor::new("1 mohm").unwrap(), [("a", "minus"), ("b", "ground")]).unwrap();
    let swap = |swapped: bool, pair: (&'static str, &'static str)| if swapped { (pair.1, pair.0) } else { pair };
    let (supply, ground) = swap(supply_and_ground, ("fed", "minus"));
    let (wire_a, wire_b) = swap(signal_wires, ("coil_a", "coil_b"));
    let contactor = [
        ("supply", supply),
        ("ground", ground),
        ("motor_a", "motor_a"),
        ("motor_b", "motor_b"),
        ("coil_a", "coil_a"),
        ("coil_b", "coil_b"),
        ("coil_return", ground),
    ];
    c.add("contactor", drive.contactor.clone(), contactor).unwrap();
    // The operator's switch takes its supply where the contactor's supply stud is fed.
    c.add("forward", Switch::worked([(0.0, 10.0)]), [("a", supply), ("b", "forward_out")]).unwrap();
    c.add("reverse", Switch::open(), [("a", supply), ("b", "reverse_out")]).unwrap();
    c.add("signal_a", Resistor::new("0.1 ohm").unwrap(), [("a", "forward_out"), ("b", wire_a)]).unwrap();
    c.add("signal_b", Resistor::new("0.1 ohm").unwrap(), [("a", "reverse_out"), ("b", wire_b)]).unwrap();
    let (plus, minus) = swap(motor_wires, ("motor_a", "motor_b"));
    c.add_boxed("motor", drive.motor.part().boxed(), [("plus", plus), ("minus", minus)]).unwrap();
    c.attach("motor", ResistingTorque::new("1 N m", "1.2 N m").unwrap()).unwrap();
    c.transient(0.5, &TransientOptions::default()).unwrap()
}

fn direction(run: &Run) -> f64 {
    let speed = run.state("motor", "speed").unwrap()[run.len() - 1];
    assert!(speed == 0.0 || speed.abs() > 20.0, "{speed}");
    if speed == 0.0 { 0.0 } else { speed.signum() }
}

#[test]
fn exact_truth_table_of_swaps() {
    for (motor, signal, expected) in [(false, false, 1.0), (true, false, -1.0), (false, true, -1.0), (true, true, 1.0)]
    {
        assert_eq!(
            direction(&run(motor, signal, false, Suppression::Diode)),
            expected,
            "motor {motor}, signal {signal}"
        );
    }
}

#[test]
fn exact_supply_and_ground_swapped_reverse_it_and_put_the_coil_diode_into_conduction() {
    assert_eq!(direction(&run(false, false, true, Suppression::None)), -1.0);
    // With its diode in conduction the coil gets no more than the diode's drop: the contactor stays at rest, and only the wires
    // limit the current through the diode.
    let swapped = run(false, false, true, Suppression::Diode);
    let diode = swapped.state("contactor", "coil_a_suppressor_current").unwrap();
    assert!(diode[diode.len() - 1].abs() > 20.0, "{}", diode[diode.len() - 1]);
    assert!(swapped.events.iter().all(|event| !event.what.contains("pulls in")), "{:?}", swapped.events);
}
