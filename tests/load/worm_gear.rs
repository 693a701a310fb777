//! A worm gear holds, and raising differs from lowering.

use crate::support::{K, R, assert_close, assert_energy_adds_up, motor_on};
use stallpoint::TransientOptions;
use stallpoint::parts::load::WormGear;

const LOSSLESS: f64 = 80.0 / 40.0; // N·m at the motor

fn gear(efficiency: f64) -> WormGear {
    WormGear::new(40.0, efficiency, "80 N m").unwrap()
}

#[test]
fn exact_raising_and_lowering_take_their_own_torques() {
    for (volts, torque) in [(12.0, LOSSLESS / 0.4), (-12.0, -LOSSLESS * (1.0 / 0.4 - 2.0))] {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", gear(0.4)).unwrap();
        let op = circuit.operating_point().unwrap();
        assert_close(op.current("motor").unwrap(), torque / K, 1e-8, "current");
        assert_close(op.state("motor", "speed").unwrap(), (volts - R * torque / K) / K, 1e-8, "speed");
    }
}

/// The voltage at which each direction breaks away, and rest between them whatever hangs on it.
#[test]
fn exact_breakaway_each_way() {
    let gear = WormGear { breakaway_efficiency: Some("30 %".parse().unwrap()), ..gear(0.45) };
    let raise = LOSSLESS / 0.3 * R / K;
    let lower = -LOSSLESS * (1.0 / 0.3 - 2.0) * R / K;
    for (volts, stuck) in [
        (0.0, true),
        (raise * (1.0 - 1e-6), true),
        (raise * (1.0 + 1e-6), false),
        (lower * (1.0 - 1e-6), true),
        (lower * (1.0 + 1e-6), false),
    ] {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", gear.clone()).unwrap();
        assert_eq!(circuit.operating_point().unwrap().stuck, stuck, "{volts} V");
    }
}

#[test]
fn exact_a_torque_that_resists_takes_the_same_both_ways() {
    let gear =
        WormGear { hanging_torque: "0 N m".parse().unwrap(), resisting_torque: "60 N m".parse().unwrap(), ..gear(0.5) };
    for volts in [12.0, -12.0_f64] {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", gear.clone()).unwrap();
        let i = circuit.operating_point().unwrap().current("motor").unwrap();
        assert_close(i, volts.signum() * 60.0 / 40.0 / 0.5 / K, 1e-8, "current");
    }
}

/// More than one half while turning: once started downward it drives the motor, yet it never starts by itself.
#[test]
fn exact_holds_at_rest_but_helps_downward() {
    let gear = WormGear { breakaway_efficiency: Some("45 %".parse().unwrap()), ..gear(0.6) };
    let mut circuit = motor_on(0.0);
    circuit.attach("motor", gear.clone()).unwrap();
    assert!(circuit.operating_point().unwrap().stuck);
    let mut circuit = motor_on(-12.0);
    circuit.attach("motor", gear).unwrap();
    let i = circuit.operating_point().unwrap().current("motor").unwrap();
    assert_close(i, LOSSLESS * (2.0 - 1.0 / 0.6) / K, 1e-8, "current");
}

#[test]
fn exact_energy_adds_up() {
    for volts in [12.0, -12.0] {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", gear(0.4)).unwrap();
        assert_energy_adds_up(&circuit.transient(0.5, &TransientOptions::rtol(1e-8)).unwrap());
    }
}
