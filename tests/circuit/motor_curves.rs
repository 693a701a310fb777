//! Bench curves of four 12 V motors whose torque and back-EMF constants differ.

use super::build::{motor, number, on_source, reference};
use stallpoint::circuit::{Circuit, OperatingOptions, OperatingPoint, StartFrom};
use stallpoint::parts::load::ResistingTorque;
use stallpoint::quantity::{Torque, TorqueConstant};

const RPM: f64 = std::f64::consts::TAU / 60.0;

/// The motor of one table with its free-running loss as dry friction, under a load torque.
fn loaded(data: &toml::Table, torque: f64) -> Circuit {
    let kt = number(data, "Kt");
    // Inductance and inertia do not enter an operating point.
    let mut machine = motor(number(data, "R"), 1e-4, kt, 1e-4);
    machine.back_emf_constant = Some(TorqueConstant::from_si(number(data, "Ke")));
    machine.friction = Torque::from_si(kt * number(data, "free_A"));
    let mut circuit = on_source(12.0, machine);
    circuit.attach("motor", ResistingTorque::new(torque, torque).unwrap()).unwrap();
    circuit
}

fn running(circuit: &Circuit) -> OperatingPoint {
    circuit.operating_point_with(&OperatingOptions { start: StartFrom::Running, ..Default::default() }).unwrap()
}

#[test]
fn val_four_motors_from_free_running_to_stall() {
    for name in ["A", "B", "C", "D"] {
        let data = reference("motor_12V_curves.toml", name);
        let (stall, free) = (number(&data, "stall_Nm"), number(&data, "free_rpm") * RPM);
        // R, Ke and Kt are derived to four or five digits: 1e-3 is their rounding.
        let close = |what: &str, found: f64, printed: f64| {
            assert!((found / printed - 1.0).abs() < 1e-3, "{name}, {what}: {found} against {printed}");
        };
        let op = running(&loaded(&data, 0.0));
        close("free current", op.current("motor").unwrap(), number(&data, "free_A"));
        close("free speed", op.state("motor", "speed").unwrap(), free);
        // Half the stall torque: half the speed and the peak power.
        let op = running(&loaded(&data, 0.5 * stall));
        close("peak power", op.state("motor", "speed").unwrap() * 0.5 * stall, number(&data, "pmax_W"));
        // Held: the stall current; and held from just above the stall torque on.
        let op = loaded(&data, 10.0 * stall).operating_point().unwrap();
        close("stall current", op.current("motor").unwrap(), number(&data, "stall_A"));
        for (factor, stuck) in [(0.998, false), (1.002, true)] {
            assert_eq!(running(&loaded(&data, factor * stall)).stuck, stuck, "{name} at {factor} of its stall torque");
        }
        // The best efficiency lies at the root of free times stall current; printed from 101 grid points.
        let (idle, most) = (number(&data, "free_A"), number(&data, "stall_A"));
        let torque = number(&data, "Kt") * ((idle * most).sqrt() - idle);
        let op = running(&loaded(&data, torque));
        let efficiency = 100.0 * torque * op.state("motor", "speed").unwrap() / (12.0 * op.current("motor").unwrap());
        assert!((efficiency - number(&data, "eff_max_pct")).abs() < 0.05, "{name}: {efficiency} %");
    }
}
