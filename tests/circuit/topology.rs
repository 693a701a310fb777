//! What is wrong with a circuit, in full.

use super::build::{motor, resistor, with_source};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::load::{ResistingTorque, ViscousTorque};
use stallpoint::parts::{Capacitor, CurrentSource, Diode, Resistor, VoltageSource};

fn source() -> Circuit {
    with_source(VoltageSource::constant(12.0).unwrap())
}

fn add(circuit: &mut Circuit, name: &str, connections: &[(&str, &str)]) -> String {
    circuit.add(name, Resistor::new(1.0).unwrap(), connections.iter().copied()).unwrap_err().to_string()
}

fn solved(circuit: &Circuit) -> String {
    let text = circuit.operating_point().unwrap_err().to_string();
    // The same words from every question asked of the circuit.
    assert_eq!(text, circuit.transient(1.0, &TransientOptions::default()).unwrap_err().to_string());
    assert_eq!(text, circuit.warnings().unwrap_err().to_string());
    text
}

#[test]
fn exact_mistakes_while_adding() {
    let mut circuit = source();
    assert_eq!(
        add(&mut circuit, "joint", &[("a", "p"), ("c", "ground")]),
        "part \"joint\" (resistor) has no terminal \"c\"; it has \"a\", \"b\""
    );
    assert_eq!(
        add(&mut circuit, "joint", &[("a", "p")]),
        "terminal \"b\" of part \"joint\" (resistor) is not connected; give it a node"
    );
    assert_eq!(
        add(&mut circuit, "source", &[("a", "p"), ("b", "ground")]),
        "there is already a part named \"source\"; choose another name"
    );
    circuit.add("motor", motor(0.1, 1e-3, 0.1, 0.1), [("plus", "p"), ("minus", "ground")]).unwrap();
    assert_eq!(
        add(&mut circuit, "joint", &[("a", "p"), ("b", "motor.shaft")]),
        "node \"motor.shaft\" joins an electrical terminal and a shaft (part \"joint\"); use another node name"
    );
    // Nothing of all that is left in the circuit.
    assert_eq!(circuit.part_names(), ["source", "motor"]);
    assert_eq!(circuit.node_names(), ["ground", "p", "motor.shaft"]);
}

#[test]
fn exact_mistakes_while_attaching() {
    let mut circuit = source();
    let load = || ResistingTorque::new(1.0, 1.0).unwrap();
    assert_eq!(
        circuit.attach("source", load()).unwrap_err().to_string(),
        "part \"source\" has no shaft to attach to; attach loads to a motor"
    );
    assert_eq!(
        circuit.attach("moter", load()).unwrap_err().to_string(),
        "there is no part \"moter\"; known are \"source\""
    );
    circuit.add("motor", motor(0.1, 1e-3, 0.1, 0.1), [("plus", "p"), ("minus", "ground")]).unwrap();
    assert_eq!(circuit.attach("motor", load()).unwrap(), "motor.resisting_torque");
    assert_eq!(circuit.attach("motor", load()).unwrap(), "motor.resisting_torque_2");
}

#[test]
fn exact_parameters_refused() {
    let mut circuit = source();
    let refused = |error: stallpoint::Error| error.to_string();
    assert_eq!(
        refused(Resistor::new(f64::NAN).unwrap_err()),
        "`resistance`: NaN is not a resistance: give a finite number, for example \"25 mohm\""
    );
    assert_eq!(refused(Resistor::new(0.0).unwrap_err()), "`resistance` is 0 ohm, but must be above 0 ohm");
    let wrong = refused(Resistor::new("12 V").unwrap_err());
    assert!(wrong.starts_with("`resistance`: ") && wrong.contains('V') && wrong.contains("ohm"), "{wrong}");
    // A field set past the constructor is still checked when the part is added.
    let saturation_current = stallpoint::quantity::Current::from_si(f64::NAN);
    let diode = Diode { saturation_current, ..Diode::default() };
    let error = circuit.add("diode", diode, [("anode", "p"), ("cathode", "ground")]).unwrap_err();
    assert_eq!(error.to_string(), "part \"diode\" (diode): `saturation_current` is NaN A, but must be above 0 A");
}

#[test]
fn exact_no_reference() {
    let mut circuit = Circuit::with_reference("frame");
    resistor(&mut circuit, "joint", 1.0, "a", "b");
    assert_eq!(solved(&circuit), "no part is connected to the reference node \"frame\"; connect one terminal to it");
    assert_eq!(circuit.reference(), "frame");
}

#[test]
fn exact_floating_nodes() {
    let mut circuit = source();
    resistor(&mut circuit, "load", 1.0, "p", "ground");
    resistor(&mut circuit, "stray", 1.0, "x", "y");
    assert_eq!(
        solved(&circuit),
        "node \"x\", \"y\" floats: no path for a direct current leads from there to \"ground\" (only \"stray\"); add a path, for example a resistor"
    );
    let mut circuit = source();
    circuit.add("one", Capacitor::new(1e-6).unwrap(), [("a", "p"), ("b", "m")]).unwrap();
    circuit.add("two", Capacitor::new(1e-6).unwrap(), [("a", "m"), ("b", "ground")]).unwrap();
    assert_eq!(
        solved(&circuit),
        "node \"m\" floats: no path for a direct current leads from there to \"ground\" (only \"one\", \"two\"); add a path, for example a resistor"
    );
}

#[test]
fn exact_source_loop_names_only_the_loop() {
    let mut circuit = source();
    let volts = |v: f64| VoltageSource::constant(v).unwrap();
    circuit.add("apart", volts(5.0), [("plus", "q"), ("minus", "ground")]).unwrap();
    circuit.add("upper", volts(5.0), [("plus", "p"), ("minus", "m")]).unwrap();
    circuit.add("lower", volts(6.0), [("plus", "m"), ("minus", "ground")]).unwrap();
    assert_eq!(
        solved(&circuit),
        "ideal voltage sources form a loop: \"source\", \"upper\", \"lower\"; add a resistance to one of them"
    );
}

#[test]
fn exact_current_cut() {
    let mut circuit = source();
    resistor(&mut circuit, "load", 1.0, "p", "ground");
    circuit.add("one", CurrentSource::constant(1.0).unwrap(), [("plus", "p"), ("minus", "m")]).unwrap();
    circuit.add("two", CurrentSource::constant(2.0).unwrap(), [("plus", "m"), ("minus", "ground")]).unwrap();
    assert_eq!(
        solved(&circuit),
        "only ideal current sources reach node \"m\": \"one\", \"two\"; add a path beside one of them"
    );
}

#[test]
fn exact_no_inertia() {
    let mut circuit = source();
    resistor(&mut circuit, "load", 1.0, "p", "ground");
    circuit.add("brake", ViscousTorque::new(1.0).unwrap(), [("shaft", "axle")]).unwrap();
    assert_eq!(
        solved(&circuit),
        "shaft \"axle\" has no inertia (\"brake\"); give one of its parts an inertia above zero"
    );
}

#[test]
fn exact_questions_about_what_is_not_there() {
    let mut circuit = source();
    resistor(&mut circuit, "load", 1.0, "p", "ground");
    circuit.add("motor", motor(0.1, 1e-3, 0.1, 0.1), [("plus", "p"), ("minus", "ground")]).unwrap();
    let op = circuit.operating_point().unwrap();
    assert_eq!(
        op.voltage("q").unwrap_err().to_string(),
        "there is no node \"q\"; known are \"ground\", \"p\", \"motor.shaft\""
    );
    assert_eq!(
        op.current("lode").unwrap_err().to_string(),
        "there is no part \"lode\"; known are \"source\", \"load\", \"motor\", \"motor.shaft\""
    );
    assert_eq!(
        op.state("motor", "heat").unwrap_err().to_string(),
        "part \"motor\" has no state \"heat\"; it has \"current\", \"winding_temperature\", \"speed\", \"torque\", \"back_emf\""
    );
    assert_eq!(
        op.terminal_current("load", "c").unwrap_err().to_string(),
        "part \"load\" (resistor) has no terminal \"c\"; it has \"a\", \"b\""
    );
    assert_eq!(op.voltage("ground").unwrap(), 0.0);
    let run = circuit.transient(1.0, &TransientOptions::default()).unwrap();
    assert_eq!(
        run.sample(&[0.5, 1.5]).unwrap_err().to_string(),
        "`times` is 1.5 s, but must be within the run, 0 s to 1 s"
    );
}
