//! A hydraulic pump moves its load, and at the end of the stroke the relief valve opens.

use crate::support::{K, R, assert_close, assert_energy_adds_up, events, motor_on};
use stallpoint::TransientOptions;
use stallpoint::circuit::Circuit;
use stallpoint::parts::load::HydraulicPump;
use std::f64::consts::TAU;

const D: f64 = 2e-6 / TAU; // m³ a radian
const SET: f64 = 150e5; // Pa
const FORWARD: f64 = 100e5;
const REVERSE: f64 = 40e5;
const RATED: f64 = D * 2500.0 * TAU / 60.0; // m³/s at the default rated speed
const LEAK: f64 = 0.08 * RATED / SET; // defaults of the part: 8 %, 10 bar, 10 %, 88 %
const LINE: f64 = RATED / 10e5;
const VALVE: f64 = RATED / (0.1 * SET);
const LOSS: f64 = 1.0 / 0.88 - 1.0;

fn pump() -> HydraulicPump {
    HydraulicPump::new("2 cm3", "150 bar", "100 bar", "40 bar").unwrap()
}

fn drive(volts: f64, pump: HydraulicPump) -> Circuit {
    let mut circuit = motor_on(volts);
    circuit.attach("motor", pump).unwrap();
    circuit
}

/// Pressure of the linear circuit: `D ω = conductance p - offset` and `K (V - K ω)/R = D p + F`.
fn pressure(volts: f64, conductance: f64, offset: f64, friction: f64) -> f64 {
    // ω = (V - R (D p + F)/K)/K into the balance of oil.
    (D / K * (volts - R * friction / K) + offset) / (conductance + D * D * R / (K * K))
}

#[test]
fn exact_pumping_each_way() {
    let p = pressure(12.0, LEAK + LINE, LINE * FORWARD, LOSS * D * FORWARD);
    let op = drive(12.0, pump()).operating_point().unwrap();
    assert_close(op.state("motor.hydraulic_pump", "pressure").unwrap(), p, 1e-7, "forward");
    assert_close(op.state("motor.hydraulic_pump", "flow").unwrap(), LINE * (p - FORWARD), 1e-6, "flow");
    assert!(p > FORWARD && p < SET);

    let p = -pressure(12.0, LEAK + LINE, LINE * REVERSE, LOSS * D * REVERSE);
    let op = drive(-12.0, pump()).operating_point().unwrap();
    assert_close(op.state("motor.hydraulic_pump", "pressure").unwrap(), p, 1e-7, "backward");
}

/// At the end of its stroke the load stands: only leakage and the relief valve take the oil.
#[test]
fn exact_pump_at_relief() {
    for (volts, end, friction) in [(12.0, 1.0, LOSS * D * FORWARD), (-12.0_f64, 0.0, LOSS * D * REVERSE)] {
        let ended = HydraulicPump {
            stroke: Some("100 cm3".parse().unwrap()),
            position: stallpoint::quantity::Fraction::from_si(end),
            ..pump()
        };
        let op = drive(volts, ended).operating_point().unwrap();
        let p = volts.signum() * pressure(12.0, LEAK + VALVE, VALVE * SET, friction);
        assert!(p.abs() > SET);
        assert_close(op.state("motor.hydraulic_pump", "pressure").unwrap(), p, 1e-7, "pressure");
        let i = volts.signum() * (D * p.abs() + friction) / K;
        assert_close(op.current("motor").unwrap(), i, 1e-7, "current");
        let relieved = VALVE * (p - volts.signum() * SET);
        assert_close(op.state("motor.hydraulic_pump", "relief_flow").unwrap(), relieved, 1e-6, "relief");
    }
}

#[test]
fn exact_the_stroke_ends_and_the_relief_valve_opens() {
    let stroke = HydraulicPump { stroke: Some("60 cm3".parse().unwrap()), ..pump() };
    let circuit = drive(12.0, stroke);
    let run = circuit.transient(4.0, &TransientOptions::rtol(1e-8)).unwrap();
    let words: Vec<String> = events(&run, "motor.hydraulic_pump").into_iter().map(|event| event.1).collect();
    assert_eq!(words, ["moves the load forward", "reaches the forward end", "relief valve opens"]);
    assert_energy_adds_up(&run);
    // Oil to the load times its pressure is the work that left the circuit.
    let work = -run.energy.part("motor.hydraulic_pump").unwrap().delivered;
    assert_close(work, FORWARD * 60e-6, 1e-6, "work on the load");
    let last = run.sample(&[4.0]).unwrap();
    assert_close(last.state("motor.hydraulic_pump", "position").unwrap()[0], 1.0, 1e-7, "position");
    let p = pressure(12.0, LEAK + VALVE, VALVE * SET, LOSS * D * FORWARD);
    assert_close(last.state("motor.hydraulic_pump", "pressure").unwrap()[0], p, 1e-6, "pressure at the end");
}

/// A motor too weak for the load turns only as fast as the pump leaks.
#[test]
fn exact_below_the_load_pressure_it_creeps() {
    let friction = LOSS * D * FORWARD;
    let volts = 0.9 * (D * FORWARD + friction) * R / K;
    let op = drive(volts, pump()).operating_point().unwrap();
    let p = pressure(volts, LEAK, 0.0, friction);
    assert!(p < FORWARD);
    assert_close(op.state("motor.hydraulic_pump", "pressure").unwrap(), p, 1e-7, "pressure");
    assert_eq!(op.state("motor.hydraulic_pump", "flow").unwrap(), 0.0);
    assert_close(op.state("motor", "speed").unwrap(), LEAK * p / D, 1e-6, "speed");
}
