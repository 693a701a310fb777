//! A coil without suppression, cut by a real contact.

use stallpoint::circuit::{Circuit, Signal, TransientOptions};
use stallpoint::parts::{Coil, Contact, RestPosition, ReversingContactor, Suppression, VoltageSource};

use super::drive::{assert_balance, contactor, events_of, plain_coil, pulses};

/// A small contactor's contact from supply to motor A switches the coil.
fn cut(coil: Coil) -> stallpoint::Run {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12.6 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("control", pulses(&[(0.0, 0.1)]), [("plus", "pilot_coil"), ("minus", "ground")]).unwrap();
    let pilot = ReversingContactor { bounce: Vec::new(), ..contactor(RestPosition::Open) };
    let nodes = [
        ("supply", "p"),
        ("ground", "ground"),
        ("motor_a", "coil"),
        ("motor_b", "ground"),
        ("coil_a", "pilot_coil"),
        ("coil_b", "ground"),
        ("coil_return", "ground"),
    ];
    circuit.add("pilot", pilot, nodes).unwrap();
    circuit.add("coil", coil, [("plus", "coil"), ("minus", "ground")]).unwrap();
    let run = circuit.transient(0.25, &TransientOptions::rtol(1e-5)).unwrap();
    println!("{:?}", events_of(&run, "pilot"));
    assert_balance(&run, 1e-5);
    run
}

#[test]
fn exact_voltage_of_a_cut_coil_stays_within_what_the_contact_withstands() {
    for core_loss in ["1 mS", "0 S"] {
        let coil = Coil { core_loss_conductance: core_loss.parse().unwrap(), ..plain_coil() };
        let run = cut(coil);
        let contact = Contact::default();
        // Striking voltage at the full gap, and the arc's own at the current of 0.525 A.
        let strike = 1.1 * contact.arc_voltage.si() + contact.strike_voltage_per_metre.si() * contact.gap.si();
        let extremes = run.extremes(&Signal::Voltage("coil".into())).unwrap();
        println!("coil between {} V and {} V", extremes.min, extremes.max);
        assert!(extremes.max < 12.6 + 1e-6);
        assert!(extremes.min < -1.0, "no kick: {}", extremes.min);
        assert!(extremes.min > 12.6 - strike, "{} below what the contact withstands", extremes.min);
    }
}

#[test]
fn exact_diode_holds_the_cut_coil_near_its_forward_voltage() {
    let run = cut(Coil { suppression: Suppression::Diode, ..plain_coil() });
    let extremes = run.extremes(&Signal::Voltage("coil".into())).unwrap();
    // The default diode carries 0.525 A at 0.0414 V ln(1 + 0.525 / 1e-10) = 0.93 V.
    assert!(extremes.min < -0.5 && extremes.min > -0.94, "{}", extremes.min);
}
