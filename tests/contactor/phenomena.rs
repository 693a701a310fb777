//! What a technician knows from experience, out of the equations.

use stallpoint::circuit::{Circuit, Signal, TransientOptions};
use stallpoint::parts::{
    Battery, CurrentSource, PermanentMagnetMotor, Resistor, RestPosition, ReversingContactor, VoltageSource,
};
use stallpoint::quantity::Temperature;

use super::drive::{TERMINALS, contactor, control_and_power, events_of, pulses};

/// Reversed at speed, a motor draws (V + K ω - V_b) / (V - V_b) times its locked-rotor current; towards 2 near no-load.
#[test]
fn exact_plugging_draws_up_to_twice_locked_rotor() {
    let quiet = ReversingContactor { bounce: Vec::new(), ..contactor(RestPosition::Open) };
    let mut circuit = control_and_power(quiet, pulses(&[(0.0, 30.0)]), pulses(&[(30.02, 40.0)]));
    // Hardly any inductance, so that the current is there at once; much inertia, so that the speed stays.
    let motor = PermanentMagnetMotor {
        brush_drop: "0.8 V".parse().unwrap(),
        friction: "0.2 N m".parse().unwrap(), // 4.4 A, where the brushes have their full drop
        ..PermanentMagnetMotor::new("25 mohm", "1 uH", "0.045 N m/A", "0.2 kg m2").unwrap()
    };
    circuit.add("motor", motor, [("plus", "motor_a_stud"), ("minus", "motor_b_stud")]).unwrap();
    let run = circuit.transient(30.2, &TransientOptions::rtol(1e-6)).unwrap();
    let makes = events_of(&run, "contactor").iter().find(|event| event.1 == "set B makes").unwrap().0;
    let omega = run.sample(&[makes]).unwrap().state("motor", "speed").unwrap()[0];
    let peak = run.extremes_between(&Signal::Current("motor".into()), makes, f64::INFINITY).unwrap().min.abs();
    let loop_resistance = 25e-3 + 20e-3 + 0.6e-3;
    let locked = (12.6 - 0.8) / loop_resistance;
    let exact = (12.6 + 0.045 * omega - 0.8) / (12.6 - 0.8);
    println!("ω {omega:.1} rad/s, {:.4} times locked rotor, exact {exact:.4}", peak / locked);
    assert!((peak / locked / exact - 1.0).abs() < 2e-3, "{} against {exact}", peak / locked);
    assert!(exact > 1.9 && exact < 2.0);
}

/// A coil at 90 °C on a battery that sags to 9 V does not pull in; cold, or on a good battery, it does.
#[test]
fn exact_a_hot_coil_on_a_sagging_battery_fails_to_pull_in() {
    let pulls = |celsius: f64, volts: f64| {
        let mut own = contactor(RestPosition::Braked);
        own.coil.temperature_c = Temperature::from_si(celsius);
        let hot = own.pull_in_voltage_at(celsius);
        let mut circuit = Circuit::new();
        let source = VoltageSource::constant(volts).unwrap();
        circuit.add("source", source, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
        let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
        circuit.add("contactor", own, nodes).unwrap();
        let run = circuit.transient(0.5, &TransientOptions::rtol(1e-6)).unwrap();
        let made = events_of(&run, "contactor").iter().any(|event| event.1 == "set A makes");
        assert_eq!(made, volts > hot, "{celsius} °C, {volts} V, {hot} V");
        made
    };
    assert!(!pulls(90.0, 9.0));
    assert!(pulls(20.0, 9.0) && pulls(90.0, 12.0));
}

/// The same on a battery that another consumer pulls down: 12.8 V open-circuit behind resistance, 150 A taken elsewhere.
#[test]
fn exact_a_battery_pulled_down_by_another_consumer_leaves_a_hot_coil_too_little() {
    let pulls = |celsius: f64, amperes: f64| {
        let mut own = contactor(RestPosition::Braked);
        own.coil.temperature_c = Temperature::from_si(celsius);
        let (needs, coil) = (own.pull_in_voltage_at(celsius), own.coil.resistance_at(celsius));
        let battery = Battery { polarisation_resistance: None, ..Battery::agm("100 Ah", "25 mohm").unwrap() };
        let (open, series) = (battery.open_circuit_voltage(), battery.resistance());
        let mut circuit = Circuit::new();
        circuit.add("battery", battery, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
        let other = CurrentSource::constant(amperes).unwrap();
        circuit.add("other consumer", other, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
        let nodes = TERMINALS.map(|(terminal, node)| (terminal, if node == "coil_a" { node } else { "ground" }));
        circuit.add("contactor", own, nodes).unwrap();
        let run = circuit.transient(0.5, &TransientOptions::rtol(1e-6)).unwrap();
        let left = *run.voltage("coil_a").unwrap().last().unwrap();
        let exact = (open - series * amperes) * coil / (coil + series);
        assert!((left / exact - 1.0).abs() < 1e-3, "{left} V against {exact} V");
        let made = events_of(&run, "contactor").iter().any(|event| event.1 == "set A makes");
        println!("{celsius} °C, {amperes} A elsewhere: {left:.2} V of the {needs:.2} V that it needs, makes: {made}");
        assert_eq!(made, left > needs);
        made
    };
    assert!(!pulls(90.0, 150.0));
    assert!(pulls(20.0, 150.0) && pulls(90.0, 0.0));
}

/// An arc over gaps made for 12 V: U_min + E g = 12 V + 1.5 kV/m · 3 mm = 16.5 V each, and two contacts in series break.
#[test]
fn exact_an_arc_that_the_voltage_keeps_burning_is_reported() {
    for (volts, persists) in [(12.0, false), (24.0, false), (48.0, true)] {
        assert_eq!(volts > 2.0 * 16.5, persists);
        let mut circuit = Circuit::new();
        let source = VoltageSource::constant(volts).unwrap();
        circuit.add("battery", source, [("plus", "supply_stud"), ("minus", "ground")]).unwrap();
        circuit.add("control", pulses(&[(0.0, 0.1)]), [("plus", "coil_a"), ("minus", "ground")]).unwrap();
        let nodes = TERMINALS.map(|(terminal, node)| {
            (terminal, if node == "ground_stud" || node == "coil_b" { "ground" } else { node })
        });
        circuit.add("contactor", contactor(RestPosition::Open), nodes).unwrap();
        let load = Resistor::new("0.2 ohm").unwrap();
        circuit.add("motor", load, [("a", "motor_a_stud"), ("b", "motor_b_stud")]).unwrap();
        let run = circuit.transient(0.3, &TransientOptions::rtol(1e-6)).unwrap();
        let events = events_of(&run, "contactor");
        let reported = events.iter().any(|event| event.1.starts_with("arc persists at full gap"));
        assert_eq!(reported, persists, "{volts} V: {events:?}");
        // What burns on: (V - 33 V) / (0.2 ohm + two arcs of 10 mohm).
        let left = run.current("motor").unwrap().last().copied().unwrap();
        let exact = if persists { (volts - 33.0) / 0.22 } else { 0.0 };
        assert!((left - exact).abs() < 1e-3 * exact.max(1e-2), "{left} A against {exact} A");
    }
}
