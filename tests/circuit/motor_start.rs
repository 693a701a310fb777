//! A permanent-magnet motor started on a stiff source.

use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::parts::{PermanentMagnetMotor, Resistor, VoltageSource};

fn drive(resistance: &str) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", VoltageSource::constant("12.6 V").unwrap(), [("plus", "p"), ("minus", "ground")]).unwrap();
    circuit.add("joint", Resistor::new(resistance).unwrap(), [("a", "p"), ("b", "stud")]).unwrap();
    let motor = PermanentMagnetMotor {
        brush_drop: "0.8 V".parse().unwrap(),
        ..PermanentMagnetMotor::new("25 mohm", "120 uH", "0.045 N m/A", "0.004 kg m2").unwrap()
    };
    circuit.add("motor", motor, [("plus", "stud"), ("minus", "ground")]).unwrap();
    circuit.attach("motor", ResistingTorque::new("3 N m", "3.6 N m").unwrap()).unwrap();
    circuit
}

/// `R_total = (V - V_b) K_t / T_breakaway`: what the joint may have before the motor stays where it is.
fn threshold() -> f64 {
    (12.6 - 0.8) * 0.045 / 3.6 - 0.025
}

#[test]
fn exact_running_current_balances_the_torque() {
    let op = drive("30 mohm").operating_point().unwrap();
    assert!(!op.stuck);
    assert!((op.current("motor").unwrap() - 3.0 / 0.045).abs() < 1e-6);
    let omega = (12.6 - 0.8 - 0.055 * 3.0 / 0.045) / 0.045;
    assert!((op.state("motor", "speed").unwrap() / omega - 1.0).abs() < 1e-6);
}

#[test]
fn exact_stuck_above_the_stall_threshold() {
    for (factor, stuck) in [(1.0 - 1e-6, false), (1.0 + 1e-6, true)] {
        let op = drive(&format!("{} ohm", threshold() * factor)).operating_point().unwrap();
        assert_eq!(op.stuck, stuck, "at {factor} of the threshold");
    }
}

#[test]
fn exact_stall_threshold_by_transient() {
    for (factor, starts) in [(1.0 - 1e-3, true), (1.0 + 1e-3, false)] {
        let circuit = drive(&format!("{} ohm", threshold() * factor));
        let run = circuit.transient(1.0, &TransientOptions::default()).unwrap();
        let started = run.events.iter().any(|event| event.what == "starts forward");
        assert_eq!(started, starts, "at {factor} of the threshold");
        let last = *run.state("motor", "speed").unwrap().last().unwrap();
        assert_eq!(last > 0.0, starts);
    }
}

#[test]
fn exact_the_event_comes_when_the_torque_reaches_breakaway() {
    // With the brush drop's tanh at its end: i(t) = (V - V_b)/R (1 - exp(-t R/L)) but for the first ampere; so only to 1e-3.
    let run = drive("30 mohm").transient(0.1, &TransientOptions::rtol(1e-6)).unwrap();
    let (r, i) = (0.055, 3.6 / 0.045);
    let exact = -120e-6 / r * f64::ln(1.0 - i * r / 11.8);
    assert!((run.events[0].time / exact - 1.0).abs() < 5e-3, "{} against {exact}", run.events[0].time);
    assert_eq!(run.events[0].what, "starts forward");
    assert_eq!(run.events[0].to_string(), format!("{:.6} s: motor.shaft starts forward", run.events[0].time));
    // The torque at that instant is the breakaway torque.
    let row = run.time().iter().position(|&t| t == run.events[0].time).unwrap();
    assert!((run.current("motor").unwrap()[row] - i).abs() < 1e-4);
}

#[test]
fn exact_energy_adds_up() {
    for rtol in [1e-3, 1e-4, 1e-6, 1e-8] {
        let run = drive("30 mohm").transient(1.5, &TransientOptions::rtol(rtol)).unwrap();
        let residual = run.energy.residual() / run.energy.delivered();
        println!("{rtol}: {residual:e} {:?}", run.counters);
        let limit = if rtol < 1e-7 { 1e-6 } else { rtol };
        assert!(residual.abs() <= limit, "{rtol}: {residual:e}");
    }
}

#[test]
fn regress_work_of_a_start() {
    let counters = drive("30 mohm").transient(1.5, &TransientOptions::default()).unwrap().counters;
    println!("{counters:?}");
    // Measured: 28 steps, 49 factorisations, 303 evaluations.
    assert!(counters.steps <= 30 && counters.factorisations <= 52, "{counters:?}");
    assert!(counters.evaluations <= 320, "{counters:?}");
    assert!(counters.rejected_by_error + counters.rejected_by_newton <= 4, "{counters:?}");
    assert_eq!((counters.events, counters.restarts), (1, 2));
}
