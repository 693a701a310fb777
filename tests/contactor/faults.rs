//! Faults of contacts, armatures and coils.

use stallpoint::circuit::{Circuit, OperatingPoint, Part, TransientOptions, check_part};
use stallpoint::drive::{BOAT_LIFT, Control, Drive};
use stallpoint::parts::{
    ArmatureFault, Coil, CoilFaults, ContactFault, ContactorFaults, Diode, Resistor, RestPosition, ReversingContactor,
    Suppression, SuppressorFault, VoltageSource,
};
use stallpoint::quantity::{Fraction, Resistance};

use super::drive::{TIGHT, assert_balance, contactor, control_and_power, events_of, plain_coil, pulses};
use super::ideal_switch::IdealSwitch;

fn with(rest: RestPosition, faults: ContactorFaults) -> ReversingContactor {
    ReversingContactor { faults, ..contactor(rest) }
}

/// A motor of 1 ohm, two cables of 10 mohm, two contacts of 0.3 mohm; the coils on voltages of their own.
fn circuit(contactor: ReversingContactor, a: VoltageSource, b: VoltageSource) -> Circuit {
    let mut circuit = control_and_power(contactor, a, b);
    circuit.add("motor", Resistor::new("1 ohm").unwrap(), [("a", "motor_a_stud"), ("b", "motor_b_stud")]).unwrap();
    circuit
}

fn held(contactor: ReversingContactor, a: f64, b: f64) -> OperatingPoint {
    let source = |volts: f64| VoltageSource::constant(volts).unwrap();
    circuit(contactor, source(a), source(b)).operating_point().unwrap()
}

#[track_caller]
fn assert_current(op: &OperatingPoint, exact: f64) {
    let found = op.current("motor").unwrap();
    assert!((found - exact).abs() <= 1e-6 * exact.abs().max(0.1), "{found} against {exact}");
}

const RUNNING: f64 = 12.6 / 1.0206;

#[test]
fn exact_a_welded_supply_contact_keeps_the_motor_running() {
    let welded = |rest| with(rest, ContactorFaults { supply_a: ContactFault::Welded, ..Default::default() });
    assert_current(&held(welded(RestPosition::Braked), 0.0, 0.0), RUNNING);
    assert_current(&held(welded(RestPosition::Braked), 12.6, 0.0), RUNNING);
    // Both studs on supply: the motor is short-circuited there.
    assert_current(&held(welded(RestPosition::Braked), 0.0, 12.6), 0.0);
    // With four separate contacts the other direction shorts the supply through the weld and the contact to ground.
    let short = held(welded(RestPosition::Open), 0.0, 12.6);
    let through = short.current("battery").unwrap().abs();
    assert!((through / (12.6 / 0.0206) - 1.0).abs() < 1e-2, "{through}");

    let run = circuit(welded(RestPosition::Braked), pulses(&[(0.0, 0.1)]), pulses(&[]));
    let run = run.transient(0.2, &TransientOptions::rtol(1e-6)).unwrap();
    let words: Vec<&str> = events_of(&run, "contactor").iter().map(|event| event.1).collect();
    assert!(words.contains(&"set A stays welded") && !words.contains(&"set A breaks"), "{words:?}");
    assert!(run.current("motor").unwrap().iter().all(|i| (i / RUNNING - 1.0).abs() < 1e-3));
    assert_balance(&run, 1e-6);
}

#[test]
fn exact_a_blade_welded_to_ground_never_reaches_supply() {
    let welded = with(RestPosition::Braked, ContactorFaults { ground_a: ContactFault::Welded, ..Default::default() });
    assert_current(&held(welded.clone(), 12.6, 0.0), 0.0);
    assert_current(&held(welded.clone(), 0.0, 12.6), -RUNNING);
    let run =
        circuit(welded, pulses(&[(0.0, 0.1)]), pulses(&[])).transient(0.2, &TransientOptions::rtol(1e-6)).unwrap();
    let words: Vec<&str> = events_of(&run, "contactor").iter().map(|event| event.1).collect();
    assert!(words.contains(&"set A sticks to ground") && words.contains(&"set A does not make"), "{words:?}");
}

#[test]
fn exact_a_pitted_contact_adds_its_resistance() {
    let pitted = ContactFault::Pitted(Resistance::from_si(0.05));
    let faulty = with(RestPosition::Braked, ContactorFaults { supply_a: pitted, ..Default::default() });
    assert_current(&held(faulty.clone(), 12.6, 0.0), 12.6 / 1.0706);
    assert_current(&held(faulty, 0.0, 12.6), -RUNNING);
}

#[test]
fn exact_a_contact_that_does_not_make_or_is_missing_leaves_the_motor_dead_in_one_direction() {
    for fault in [ContactFault::NotMaking, ContactFault::Missing] {
        let faulty = || with(RestPosition::Braked, ContactorFaults { supply_a: fault, ..Default::default() });
        let op = held(faulty(), 12.6, 0.0);
        assert_current(&op, 0.0);
        assert_eq!(op.state("contactor", "armature_a_position").unwrap(), 1.0);
        assert_eq!(op.state("contactor", "supply_a_closed").unwrap(), 0.0);
        assert_current(&held(faulty(), 0.0, 12.6), -RUNNING);
    }
}

#[test]
fn exact_stuck_armatures_do_not_follow_their_coils() {
    let stuck = |fault| with(RestPosition::Braked, ContactorFaults { armature_a: fault, ..Default::default() });
    let open = held(stuck(ArmatureFault::StuckOpen), 12.6, 0.0);
    assert_current(&open, 0.0);
    assert!((open.state("contactor", "coil_a_current").unwrap() / (12.6 / 24.0) - 1.0).abs() < 1e-6);
    assert_current(&held(stuck(ArmatureFault::StuckOpen), 0.0, 12.6), -RUNNING);
    assert_current(&held(stuck(ArmatureFault::StuckClosed), 0.0, 0.0), RUNNING);
    // The interlock bars B; without it both studs are on supply.
    assert_current(&held(stuck(ArmatureFault::StuckClosed), 0.0, 12.6), RUNNING);
    let free = ReversingContactor { interlock: false, ..stuck(ArmatureFault::StuckClosed) };
    assert_current(&held(free, 0.0, 12.6), 0.0);
}

#[test]
fn exact_an_open_coil_does_not_pull() {
    let coil_a = CoilFaults { open: true, ..CoilFaults::default() };
    let op = held(with(RestPosition::Braked, ContactorFaults { coil_a, ..Default::default() }), 12.6, 0.0);
    assert_current(&op, 0.0);
    assert!(op.state("contactor", "coil_a_current").unwrap().abs() < 1.3e-8);
}

#[test]
fn exact_shorted_turns_pull_as_before_and_draw_more() {
    let coil_a = CoilFaults { shorted_turns: Fraction::from_si(0.25), ..CoilFaults::default() };
    let faulty = || with(RestPosition::Braked, ContactorFaults { coil_a, ..Default::default() });
    for (volts, position) in [(7.999, 0.0), (8.001, 1.0)] {
        let op = held(faulty(), volts, 0.0);
        assert_eq!(op.state("contactor", "armature_a_position").unwrap(), position);
        assert!((op.state("contactor", "coil_a_current").unwrap() / (volts / 18.0) - 1.0).abs() < 1e-9);
    }
}

#[test]
fn exact_shorted_turns_slow_the_decay() {
    // Cut with a resistor of 36 ohm across: tau = L / (R + R_s) + L G, all of the turns that are left.
    for s in [0.0, 0.3] {
        let coil = Coil {
            suppression: Suppression::Resistor { resistance: "36 ohm".parse().unwrap() },
            faults: CoilFaults { shorted_turns: Fraction::from_si(s), ..CoilFaults::default() },
            ..plain_coil()
        };
        let mut circuit = Circuit::new();
        circuit.add("source", VoltageSource::constant("12 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
        circuit.add("switch", IdealSwitch::opens_at(0.1), [("a", "p"), ("b", "coil")]).unwrap();
        circuit.add("coil", coil, [("plus", "coil"), ("minus", "ground")]).unwrap();
        let run = circuit.transient(0.12, &TransientOptions::rtol(TIGHT)).unwrap();
        let (r, l) = (24.0 * (1.0 - s), 0.12 * (1.0 - s) * (1.0 - s));
        let g = s / ((1.0 - s) * (1.0 - s) * 24.0);
        let tau = l / (r + 36.0) + l * g;
        let flux = run.sample(&[0.102, 0.107]).unwrap().state("coil", "flux").unwrap().to_vec();
        let exact = f64::exp(-0.005 / tau);
        assert!((flux[1] / flux[0] / exact - 1.0).abs() < 1e-6, "{s}: {} against {exact}", flux[1] / flux[0]);
    }
}

/// A coil with a diode behind 1 ohm on 12.6 V.
fn fed(suppressor: SuppressorFault) -> OperatingPoint {
    let faults = CoilFaults { suppressor, ..CoilFaults::default() };
    let coil = Coil { suppression: Suppression::Diode, faults, ..plain_coil() };
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12.6 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("wire", Resistor::new("1 ohm").unwrap(), [("a", "p"), ("b", "coil")]).unwrap();
    circuit.add("coil", coil, [("plus", "coil"), ("minus", "ground")]).unwrap();
    circuit.operating_point().unwrap()
}

#[test]
fn exact_suppressor_faults_show_at_the_coil() {
    let volts = |fault| fed(fault).voltage("coil").unwrap();
    let healthy = 12.6 * 24.0 / 25.0;
    assert!((volts(SuppressorFault::Healthy) - healthy).abs() < 1e-6);
    assert!((volts(SuppressorFault::Missing) - healthy).abs() < 1e-9);
    let shorted = 1.0 / (1.0 / 24.0 + 100.0);
    assert!((volts(SuppressorFault::Shorted) / (12.6 * shorted / (1.0 + shorted)) - 1.0).abs() < 1e-6);
    // Reversed: the diode carries what the wire lets through but for the coil's share.
    let v = volts(SuppressorFault::Reversed);
    let balance = (12.6 - v) - v / 24.0 - Diode::default().current(v);
    assert!(balance.abs() < 1e-6 && v < 1.3, "{v} V, {balance} A");
}

#[test]
fn exact_only_faults_are_written_and_read_back() {
    let healthy = contactor(RestPosition::Braked);
    assert!(!toml::to_string(&healthy).unwrap().contains("faults"));
    let faults = ContactorFaults {
        ground_b: ContactFault::Pitted(Resistance::from_si(0.02)),
        supply_a: ContactFault::Welded,
        armature_a: ArmatureFault::StuckOpen,
        coil_b: CoilFaults { open: true, ..CoilFaults::default() },
        ..ContactorFaults::default()
    };
    let text = toml::to_string(&with(RestPosition::Braked, faults)).unwrap();
    assert_eq!(toml::from_str::<ReversingContactor>(&text).unwrap().faults, faults);

    let drive = Drive::from_toml_str(BOAT_LIFT).unwrap();
    let faulty = drive
        .with_values([
            ("contactor.faults.ground_b.pitted", "20 mohm"),
            ("contactor.faults.supply_a", "welded"),
            ("contactor.faults.armature_a", "stuck_open"),
        ])
        .unwrap()
        .with_values([("contactor.faults.coil_b.open", true)])
        .unwrap();
    assert_eq!(faulty.contactor.faults, faults);
    faulty.run(&Control::new(), 0.01).unwrap();
}

#[test]
fn exact_refuses_faults_that_cannot_be() {
    let refused = |part: &ReversingContactor, words: &str| {
        let message = part.check().unwrap_err().to_string();
        assert!(message.contains(words), "{message}");
    };
    let both = ContactorFaults { supply_a: ContactFault::Welded, ground_a: ContactFault::Welded, ..Default::default() };
    refused(&with(RestPosition::Braked, both), "faults.supply_a");
    assert!(with(RestPosition::Open, both).check().is_ok());
    let coil_b = CoilFaults { shorted_turns: Fraction::from_si(0.95), ..CoilFaults::default() };
    refused(
        &with(RestPosition::Braked, ContactorFaults { coil_b, ..Default::default() }),
        "faults.coil_b.shorted_turns",
    );
    let coil_a = CoilFaults { suppressor: SuppressorFault::Shorted, ..CoilFaults::default() };
    refused(&with(RestPosition::Braked, ContactorFaults { coil_a, ..Default::default() }), "faults.coil_a.suppressor");
    let mut misplaced = contactor(RestPosition::Braked);
    misplaced.coil.faults.open = true;
    refused(&misplaced, "coil.faults");
}

#[test]
fn prop_faulty_contactors_conform() {
    let coil = |suppressor| CoilFaults { shorted_turns: Fraction::from_si(0.3), open: false, suppressor };
    for suppressor in [SuppressorFault::Shorted, SuppressorFault::Reversed, SuppressorFault::Missing] {
        let faults = ContactorFaults {
            supply_a: ContactFault::Welded,
            ground_b: ContactFault::Pitted(Resistance::from_si(0.02)),
            supply_b: ContactFault::Missing,
            coil_a: coil(suppressor),
            coil_b: coil(SuppressorFault::Healthy),
            ..ContactorFaults::default()
        };
        let mut part = with(RestPosition::Braked, faults);
        part.coil.suppression = Suppression::DiodeAndResistor { resistance: "47 ohm".parse().unwrap() };
        check_part(&part, &Default::default()).unwrap();
    }
}
