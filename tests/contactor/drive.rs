//! Circuits that the tests share. All values invented.

use stallpoint::circuit::{Circuit, Event, Run, Signal};
use stallpoint::parts::{Coil, PermanentMagnetMotor, Resistor, RestPosition, ReversingContactor, VoltageSource};

/// A 12 V, 24 ohm coil with round inductances and no core loss.
pub fn plain_coil() -> Coil {
    Coil {
        open_inductance: Some("0.12 H".parse().unwrap()),
        sealed_inductance: Some("0.24 H".parse().unwrap()),
        core_loss_conductance: "0 S".parse().unwrap(),
        ..Coil::new("12 V", "24 ohm").unwrap()
    }
}

/// A contactor with that coil: pulls in at 8 V, drops out at 4 V, 20 ms and 15 ms, bouncing.
pub fn contactor(rest: RestPosition) -> ReversingContactor {
    let coil = Coil { core_loss_conductance: "1 mS".parse().unwrap(), ..plain_coil() };
    ReversingContactor { rest, ..ReversingContactor::new(coil, "8 V", "4 V").unwrap() }
}

pub const TERMINALS: [(&str, &str); 7] = [
    ("supply", "supply_stud"),
    ("ground", "ground_stud"),
    ("motor_a", "motor_a_stud"),
    ("motor_b", "motor_b_stud"),
    ("coil_a", "coil_a"),
    ("coil_b", "coil_b"),
    ("coil_return", "ground"),
];

/// Pulses of 12.6 V: on at the first of each pair, off at the second, with edges of 1 us.
pub fn pulses(pairs: &[(f64, f64)]) -> VoltageSource {
    let (mut times, mut values) = (vec![-1.0], vec![0.0]);
    for &(on, off) in pairs {
        times.extend([on, on + 1e-6, off, off + 1e-6]);
        values.extend([0.0, 12.6, 12.6, 0.0]);
    }
    VoltageSource::table(times, values).unwrap()
}

/// Battery voltage behind resistance, contactor, ground cable; the coils on voltage sources of their own.
pub fn control_and_power(contactor: ReversingContactor, a: VoltageSource, b: VoltageSource) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("battery", VoltageSource::constant("12.6 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("supply cable", Resistor::new("10 mohm").unwrap(), [("a", "p"), ("b", "supply_stud")]).unwrap();
    circuit.add("ground cable", Resistor::new("10 mohm").unwrap(), [("a", "ground_stud"), ("b", "ground")]).unwrap();
    circuit.add("control a", a, [("plus", "coil_a"), ("minus", "ground")]).unwrap();
    circuit.add("control b", b, [("plus", "coil_b"), ("minus", "ground")]).unwrap();
    circuit.add("contactor", contactor, TERMINALS).unwrap();
    circuit
}

/// The same with a permanent-magnet motor.
pub fn with_motor(contactor: ReversingContactor, a: VoltageSource, b: VoltageSource) -> Circuit {
    let mut circuit = control_and_power(contactor, a, b);
    let motor = PermanentMagnetMotor {
        brush_drop: "0.8 V".parse().unwrap(),
        friction: "0.5 N m".parse().unwrap(),
        ..PermanentMagnetMotor::new("25 mohm", "120 uH", "0.045 N m/A", "0.004 kg m2").unwrap()
    };
    circuit.add("motor", motor, [("plus", "motor_a_stud"), ("minus", "motor_b_stud")]).unwrap();
    circuit
}

/// Events of a part with their times.
pub fn events_of<'r>(run: &'r Run, part: &str) -> Vec<(f64, &'r str)> {
    let own = |event: &&Event| event.part == part;
    run.events.iter().filter(own).map(|event| (event.time, event.what.as_str())).collect()
}

/// Step tolerance of the closed forms. At 1e-8 a decay over one time constant is wrong by 1.4e-6 (a step's error is at the
/// tolerance and there are some two hundred of them); at 1e-9 they hold to the 1e-6 that is asked of them.
pub const TIGHT: f64 = 1e-9;

/// Asserts what must hold in every run of a contactor: both contacts of a set are never closed together, and the power of
/// all parts adds up to zero in every row, to within the tolerance of its steps.
pub fn assert_sound(run: &Run, rtol: f64) {
    for set in ["a", "b"] {
        let closed = |stud: &str| run.state("contactor", &format!("{stud}_{set}_closed")).unwrap();
        let both = closed("supply").iter().zip(&closed("ground")).filter(|(s, g)| **s + **g > 1.0).count();
        assert_eq!(both, 0, "set {set}: both contacts closed in {both} rows");
    }
    assert_balance(run, rtol);
}

/// Asserts that the power of all parts adds up to zero in every row.
pub fn assert_balance(run: &Run, rtol: f64) {
    for row in 0..run.len() {
        let (sum, magnitude) = run.power_balance(row);
        assert!(sum.abs() <= rtol * magnitude + 1e-12, "power {sum:e} of {magnitude:e} at {}", run.time()[row]);
    }
}

/// Energy that does not add up, as a share of what was delivered.
pub fn residual(run: &Run) -> f64 {
    run.energy.residual().abs() / run.energy.delivered()
}

/// Largest magnitude of a node's voltage.
pub fn highest(run: &Run, node: &str) -> f64 {
    let extremes = run.extremes(&Signal::Voltage(node.into())).unwrap();
    extremes.max.abs().max(extremes.min.abs())
}
