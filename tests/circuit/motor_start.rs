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
    // R_total = (V - V_b) K_t / T_breakaway
    let threshold = (12.6 - 0.8) * 0.045 / 3.6 - 0.025;
    for (factor, stuck) in [(1.0 - 1e-6, false), (1.0 + 1e-6, true)] {
        let op = drive(&format!("{} ohm", threshold * factor)).operating_point().unwrap();
        assert_eq!(op.stuck, stuck, "at {factor} of the threshold");
    }
}

#[test]
fn exact_energy_adds_up() {
    for rtol in [1e-3, 1e-4, 1e-6, 1e-8] {
        let run = drive("30 mohm").transient(1.5, &TransientOptions::rtol(rtol)).unwrap();
        let residual = run.energy.residual() / run.energy.delivered();
        println!("{rtol}: {residual:e} {:?}", run.counters);
        assert!(residual.abs() <= rtol.max(1e-6), "{rtol}: {residual:e}");
    }
}
