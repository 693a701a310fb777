//! Running into a stop: `J d²p/dt² + c dp/dt + k p = T - F` until it would pull.

use crate::support::{assert_close, assert_energy_adds_up, events, motor_on, no_motor};
use stallpoint::TransientOptions;
use stallpoint::circuit::{Circuit, Run, Signal};
use stallpoint::parts::load::{EndStop, GravityTorque, ResistingTorque};

const J: f64 = 0.01; // kg·m²
const PUSH: f64 = 2.0; // N·m forward
const WAY: f64 = 30.0; // rad to the stop
const STIFFNESS: f64 = 400.0; // N·m/rad

/// A flywheel pushed forward by a constant torque, with a stop after 30 rad.
fn pushed(stop: EndStop) -> Circuit {
    let mut circuit = no_motor();
    let push = GravityTorque { inertia: "0.01 kg m2".parse().unwrap(), ..GravityTorque::new(-PUSH).unwrap() };
    circuit.add("push", push, [("shaft", "s")]).unwrap();
    circuit.add("stop", stop, [("shaft", "s")]).unwrap();
    circuit
}

fn stop(damping: f64) -> EndStop {
    EndStop { damping: format!("{damping} N m s/rad").parse().unwrap(), ..EndStop::new(WAY, STIFFNESS).unwrap() }
}

fn run(circuit: &Circuit, until: f64) -> Run {
    circuit.transient(until, &TransientOptions::rtol(1e-9)).unwrap()
}

fn most(run: &Run) -> f64 {
    run.extremes(&Signal::State("stop".into(), "compression".into())).unwrap().max
}

#[test]
fn exact_compression_takes_the_energy() {
    let run = run(&pushed(stop(0.0)), 1.0);
    let touch = (2.0 * WAY * J / PUSH).sqrt();
    let happened = events(&run, "stop");
    assert_eq!(happened[0].1, "reaches the forward stop");
    assert_close(happened[0].0, touch, 1e-7, "time of touch");
    // ½ k p² = T (30 rad + p)
    let most_exact = (PUSH + (PUSH * PUSH + 2.0 * STIFFNESS * PUSH * WAY).sqrt()) / STIFFNESS;
    assert_close(most(&run), most_exact, 1e-6, "compression");
    assert_energy_adds_up(&run);
}

/// Without damping all speed comes back, and the flywheel returns to where it began.
#[test]
fn exact_a_rebound_without_loss() {
    let circuit = pushed(stop(0.0));
    let touch = (2.0 * WAY * J / PUSH).sqrt();
    let run = run(&circuit, 3.0 * touch);
    let happened = events(&run, "stop");
    assert_eq!(happened[1].1, "leaves the forward stop");
    let speeds = run.extremes(&Signal::State("s".into(), "speed".into())).unwrap();
    let speed = PUSH / J * touch;
    assert_close(speeds.max, speed, 1e-3, "fastest"); // it gains a little on the spring's first part
    assert_close(-speeds.min, speed, 1e-3, "rebound");
    // Back at angle 0 with speed 0 after another `touch`.
    let back = happened[1].0 + touch;
    let there = run.sample(&[back]).unwrap();
    assert!(there.state("stop", "angle").unwrap()[0].abs() < 1e-4 * WAY);
    assert!(there.state("s", "speed").unwrap()[0].abs() < 1e-4 * speed);
    assert_energy_adds_up(&run);
}

/// With damping and no push in contact to speak of, the ratio of speeds is that of the damped oscillation cut where its
/// torque would pull: `e = exp(-ζ τ/√(1-ζ²))`, `τ = atan2(2 ζ √(1-ζ²), 2ζ² - 1)`.
#[test]
fn exact_restitution_of_a_damped_stop() {
    let zeta: f64 = 0.3;
    let stiff = 4e6; // so that the push does not count beside it
    let damping = 2.0 * zeta * (stiff * J).sqrt();
    let hard = EndStop { stiffness: format!("{stiff} N m/rad").parse().unwrap(), ..stop(damping) };
    let run = run(&pushed(hard), 0.56);
    let happened = events(&run, "stop");
    let times: Vec<f64> = happened[..2].iter().map(|event| event.0).collect();
    let speeds = run.sample(&times).unwrap().state("s", "speed").unwrap();
    let root = (1.0 - zeta * zeta).sqrt();
    let tau = (2.0 * zeta * root).atan2(2.0 * zeta * zeta - 1.0);
    assert_close(-speeds[1] / speeds[0], (-zeta * tau / root).exp(), 1e-3, "restitution");
    assert_energy_adds_up(&run);
    assert!(run.energy.part("stop").unwrap().lost_at_jumps > 0.0);
}

/// Dry friction holds the shaft on the wound-up spring: `½ k p² = (T - F)(way + p)` and no way back.
#[test]
fn exact_friction_holds_it_wound_up() {
    let near = EndStop::new("0.05 rad", "2 N m/rad").unwrap();
    let mut circuit = no_motor();
    let push = GravityTorque { inertia: "0.01 kg m2".parse().unwrap(), ..GravityTorque::new(-31.0).unwrap() };
    circuit.add("push", push, [("shaft", "s")]).unwrap();
    circuit.add("friction", ResistingTorque::new("1.5 N m", "30 N m").unwrap(), [("shaft", "s")]).unwrap();
    circuit.add("stop", near, [("shaft", "s")]).unwrap();
    let run = run(&circuit, 1.0);
    assert_eq!(events(&run, "stop").len(), 1);
    let net = 31.0 - 1.5;
    let wound = (net + f64::sqrt(net * net + 2.0 * 2.0 * net * 0.05)) / 2.0;
    assert!(2.0 * wound - 31.0 < 30.0); // what pushes back is below breakaway
    let end = run.sample(&[1.0]).unwrap();
    assert_close(end.state("stop", "compression").unwrap()[0], wound, 1e-6, "wound up");
    assert_eq!(end.state("s", "speed").unwrap()[0], 0.0);
    assert_energy_adds_up(&run);
}

/// A motor that runs into its stop stalls on it, at locked-rotor current.
#[test]
fn exact_a_motor_stalls_on_its_stop() {
    let mut circuit = motor_on(6.0);
    circuit.attach("motor", ResistingTorque::new("0.3 N m", "0.4 N m").unwrap()).unwrap();
    let buffer = EndStop { damping: "0.5 N m s/rad".parse().unwrap(), ..EndStop::new("20 rad", "80 N m/rad").unwrap() };
    circuit.attach("motor", buffer).unwrap();
    let run = run(&circuit, 2.0);
    let end = run.sample(&[2.0]).unwrap();
    assert_eq!(end.state("motor", "speed").unwrap()[0], 0.0);
    assert_close(end.current("motor").unwrap()[0], 6.0 / 0.1, 1e-6, "locked-rotor current");
    // What the spring holds differs from the motor's torque by no more than breakaway.
    let spring = 80.0 * end.state("motor.end_stop", "compression").unwrap()[0];
    assert!((spring - 60.0 * 0.05).abs() <= 0.4 + 1e-9, "{spring}");
    assert_energy_adds_up(&run);
}

#[test]
fn exact_the_backward_stop_mirrors_the_forward_one() {
    let mirrored = EndStop { forward: None, backward: Some(format!("{} rad", -WAY).parse().unwrap()), ..stop(0.05) };
    let mut circuit = pushed(mirrored);
    let pull = GravityTorque { inertia: "0.01 kg m2".parse().unwrap(), ..GravityTorque::new(PUSH).unwrap() };
    circuit.replace("push", Box::new(pull)).unwrap();
    let (one, other) = (run(&pushed(stop(0.05)), 1.0), run(&circuit, 1.0));
    assert_close(most(&other), most(&one), 1e-9, "compression");
    assert_eq!(events(&other, "stop")[0].1, "reaches the backward stop");
    assert_energy_adds_up(&other);
}
