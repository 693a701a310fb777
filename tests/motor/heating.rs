//! Winding and case as two bodies of heat.

use super::build::{loaded, on_source};
use stallpoint::circuit::{OperatingOptions, TransientOptions};
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::parts::motor::MotorCase;
use stallpoint::quantity::{HeatCapacity, ThermalResistance};

const C: [f64; 2] = [150.0, 900.0];
const TO: [f64; 2] = [0.8, 0.5];

fn motor(ambient: f64) -> PermanentMagnetMotor {
    PermanentMagnetMotor {
        heat_capacity: Some(HeatCapacity::from_si(C[0])),
        thermal_resistance: Some(ThermalResistance::from_si(TO[0])),
        case: Some(MotorCase {
            heat_capacity: HeatCapacity::from_si(C[1]),
            thermal_resistance: ThermalResistance::from_si(TO[1]),
            temperature_c: stallpoint::quantity::Temperature::from_si(ambient),
        }),
        ..PermanentMagnetMotor::new(0.05, 1e-6, 0.045, 0.004).unwrap()
    }
}

#[test]
fn exact_settled_temperatures_solve_the_hot_resistance() {
    // Held at a voltage: P = V²/R(T), T = 20 + P (R1 + R2): a quadratic in P.
    let v = 2.0;
    let op = loaded(on_source(v, motor(20.0)), 1e3)
        .operating_point_with(&OperatingOptions { settled: true, ..Default::default() })
        .unwrap();
    let p = v * op.current("motor").unwrap();
    let alpha = 0.00393; // copper, IEC 60028
    let a = alpha * (TO[0] + TO[1]);
    let exact = ((1.0 + 4.0 * a * v * v / 0.05).sqrt() - 1.0) / (2.0 * a);
    assert!((p / exact - 1.0).abs() < 1e-9, "{p} against {exact}");
    let (winding, case) =
        (op.state("motor", "winding_temperature").unwrap(), op.state("motor", "case_temperature").unwrap());
    assert!((case - 20.0 - p * TO[1]).abs() < 1e-6 && (winding - case - p * TO[0]).abs() < 1e-6, "{winding} {case}");
}

#[test]
fn exact_cooling_of_two_bodies() {
    // Without current: two exponentials of the matrix of the two bodies.
    let mut hot = motor(20.0);
    hot.winding_temperature_c = stallpoint::quantity::Temperature::from_si(120.0);
    let run = loaded(on_source(0.0, hot), 1.0).transient(600.0, &TransientOptions::rtol(1e-9)).unwrap();
    let (a, b, d) = (1.0 / (TO[0] * C[0]), 1.0 / (TO[0] * C[1]), 1.0 / (TO[1] * C[1]));
    let (half, determinant) = (0.5 * (a + b + d), a * d);
    let root = (half * half - determinant).sqrt();
    let (fast, slow) = (half + root, half - root);
    let times: Vec<f64> = (1..=12).map(|k| 50.0 * f64::from(k)).collect();
    let sampled = run.sample(&times).unwrap();
    let winding = sampled.state("motor", "winding_temperature").unwrap();
    let case = sampled.state("motor", "case_temperature").unwrap();
    for (k, t) in times.iter().enumerate() {
        // Case: 100 b (e^{-slow t} - e^{-fast t}) / (fast - slow); winding from its own equation.
        let (es, ef) = ((-slow * t).exp(), (-fast * t).exp());
        let exact_case = 100.0 * b * (es - ef) / (fast - slow);
        let exact_winding = 100.0 * ((fast - a) * es + (a - slow) * ef) / (fast - slow);
        assert!((case[k] - 20.0 - exact_case).abs() < 1e-4, "{t}: {} against {exact_case}", case[k] - 20.0);
        assert!((winding[k] - 20.0 - exact_winding).abs() < 1e-4, "{t}: {} against {exact_winding}", winding[k] - 20.0);
    }
}
