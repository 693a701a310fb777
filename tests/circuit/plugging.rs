//! Reversal of a running motor, and the heat of starting and stopping.

use super::build::{motor, number, on_source, reference, resistor, with_source};
use stallpoint::circuit::{Circuit, Ending, OperatingOptions, Signal, StartFrom, State, TransientOptions};
use stallpoint::parts::VoltageSource;

const RPM: f64 = std::f64::consts::TAU / 60.0;

/// A motor behind a resistance on a source.
fn behind(volts: f64, ohms: f64, machine: stallpoint::parts::PermanentMagnetMotor) -> Circuit {
    let mut circuit = with_source(VoltageSource::constant(volts).unwrap());
    resistor(&mut circuit, "lead", ohms, "p", "stud");
    circuit.add("motor", machine, [("plus", "stud"), ("minus", "ground")]).unwrap();
    circuit
}

/// Running light at `volts`.
fn running(circuit: &Circuit) -> State {
    let options = OperatingOptions { start: StartFrom::Running, ..Default::default() };
    circuit.operating_point_with(&options).unwrap().as_start()
}

#[test]
fn val_plugging_of_the_textbook() {
    let data = reference("dc_motor_examples.toml", "dubey_5_8_plugging");
    let (v, ra) = (number(&data, "V"), number(&data, "Ra_ohm"));
    let k = number(&data, "E_rated_V") / (number(&data, "N_rated_rpm") * RPM);
    // An inertia so large that the speed does not fall while the current rises.
    let machine = || motor(ra, 1e-7, k, 2000.0);
    let before = running(&behind(k * number(&data, "N_initial_rpm") * RPM, 1.0, machine()));
    for (ohms, peak, torque) in [
        (number(&data, "R_added_ohm"), number(&data, "limit_A"), Some(number(&data, "T_initial_Nm"))),
        (1e-9, number(&data, "unlimited_reversal_current_A"), None),
    ] {
        let options = TransientOptions {
            start: Some(before.clone()),
            stop_at_event_of: Some("motor.shaft".into()),
            ..TransientOptions::rtol(1e-8)
        };
        let run = behind(-v, ohms, machine()).transient(2000.0, &options).unwrap();
        assert_eq!(run.ending, Ending::StoppedAtEvent);
        let found = run.extremes(&Signal::Current("motor".into())).unwrap();
        assert!((-found.min / peak - 1.0).abs() < 1e-4, "{} against {peak}", found.min);
        if let Some(torque) = torque {
            let found = run.extremes(&Signal::State("motor".into(), "torque".into())).unwrap();
            assert!((-found.min / torque - 1.0).abs() < 1e-4, "{} against {torque}", found.min);
            // At the event the speed is zero.
            let (current, torque) = (run.current("motor").unwrap(), run.state("motor", "torque").unwrap());
            let last = run.len() - 1;
            assert!((-current[last] / number(&data, "I_at_zero_speed_A") - 1.0).abs() < 1e-4, "{}", current[last]);
            assert!((-torque[last] / number(&data, "T_at_zero_speed_Nm") - 1.0).abs() < 1e-4, "{}", torque[last]);
        }
    }
    let held = v / ra;
    assert!((held / number(&data, "locked_rotor_current_A") - 1.0).abs() < 1e-12);
}

#[test]
fn exact_plugging_ratio() {
    // (V + K ω - V_b)/(V - V_b) as L goes to zero: the brush drop opposes the current, the back-EMF helps it.
    let (v, vb, k, r, omega) = (12.6, 0.8, 0.045, 0.05, 200.0);
    let machine = || {
        let mut machine = motor(r, 1e-8, k, 10.0);
        machine.brush_drop = stallpoint::quantity::Voltage::from_si(vb);
        machine
    };
    let before = running(&on_source(k * omega, machine()));
    let options = TransientOptions { start: Some(before), ..TransientOptions::rtol(1e-8) };
    // 20 time constants of L/R, in which an inertia of 10 kg m² loses 1e-8 of its speed.
    let run = on_source(-v, machine()).transient(20.0 * 1e-8 / r, &options).unwrap();
    let current = *run.current("motor").unwrap().last().unwrap();
    let held = (v - vb) / r;
    let exact = (v + k * omega - vb) / (v - vb);
    assert!((-current / held / exact - 1.0).abs() < 1e-6, "{} against {exact}", -current / held);
}

#[test]
fn exact_heat_of_a_start_and_of_a_plug_stop() {
    let (v, k, r, j) = (12.6, 0.045, 0.05, 0.004);
    let machine = || motor(r, 1e-9, k, j);
    let kinetic = 0.5 * j * (v / k) * (v / k);
    // A start without load: as much heat as motion.
    let tau = r * j / (k * k);
    let run = on_source(v, machine()).transient(20.0 * tau, &TransientOptions::rtol(1e-8)).unwrap();
    let heat = run.energy.part("motor").unwrap().dissipated;
    let stored = run.energy.part("motor.shaft").unwrap().stored;
    println!("start: heat {:e}, motion {:e}", heat / kinetic - 1.0, stored / kinetic - 1.0);
    assert!((heat / kinetic - 1.0).abs() < 1e-6 && (stored / kinetic - 1.0).abs() < 1e-6);
    // A plug-stop: three times as much heat as there was motion.
    let options = TransientOptions {
        start: run.state_at_end(),
        stop_at_event_of: Some("motor.shaft".into()),
        ..TransientOptions::rtol(1e-8)
    };
    let run = on_source(-v, machine()).transient(100.0 * tau, &options).unwrap();
    assert_eq!(run.ending, Ending::StoppedAtEvent);
    let heat = run.energy.part("motor").unwrap().dissipated;
    println!("plug-stop: heat {:e}", heat / (3.0 * kinetic) - 1.0);
    assert!((heat / (3.0 * kinetic) - 1.0).abs() < 1e-6);
    // It takes tau ln 2.
    let time = run.time()[run.len() - 1] - run.time()[0];
    assert!((time / (tau * 2.0_f64.ln()) - 1.0).abs() < 1e-5, "{time}");
}
