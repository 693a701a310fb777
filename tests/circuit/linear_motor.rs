//! A linear permanent-magnet motor: a second-order system with a closed form.

use super::build::{motor, number, on_source, reference};
use stallpoint::circuit::{Signal, TransientOptions};

/// Current and speed at `t` after a step of `v` from rest, by the exponential of a 2 by 2 matrix:
/// `exp(A t) = e^{μt} (c + s (A - μ))` with `μ` half the trace and `c`, `s` hyperbolic or circular.
pub fn closed_form([r, l, k, j, b, v]: [f64; 6], t: f64) -> [f64; 2] {
    let a = [[-r / l, -k / l], [k / j, -b / j]];
    let (mu, determinant) = (0.5 * (a[0][0] + a[1][1]), a[0][0] * a[1][1] - a[0][1] * a[1][0]);
    let d = mu * mu - determinant;
    let root = d.abs().sqrt();
    // e^{μt} cosh(root t) may overflow piece by piece, so the exponents are added first.
    let (c, s) = if d >= 0.0 {
        let (up, down) = (((mu + root) * t).exp(), ((mu - root) * t).exp());
        (0.5 * (up + down), 0.5 * (up - down) / root)
    } else {
        ((mu * t).exp() * (root * t).cos(), (mu * t).exp() * (root * t).sin() / root)
    };
    let at_rest = [v * b / (r * b + k * k), v * k / (r * b + k * k)];
    let from = [-at_rest[0], -at_rest[1]];
    let shifted = [a[0][0] - mu, a[1][1] - mu];
    [
        at_rest[0] + c * from[0] + s * (shifted[0] * from[0] + a[0][1] * from[1]),
        at_rest[1] + c * from[1] + s * (a[1][0] * from[0] + shifted[1] * from[1]),
    ]
}

/// Largest relative error of current and speed at rtol 1e-8, against the largest value of each.
fn worst(numbers: [f64; 6], until: f64) -> [f64; 2] {
    let [r, l, k, j, b, v] = numbers;
    let mut armature = motor(r, l, k, j);
    armature.viscous_friction = stallpoint::quantity::AngularDamping::from_si(b);
    let run = on_source(v, armature).transient(until, &TransientOptions::rtol(1e-8)).unwrap();
    let times: Vec<f64> = (1..=40).map(|k| until * f64::from(k) / 40.0).collect();
    let sampled = run.sample(&times).unwrap();
    let found = [sampled.current("motor").unwrap(), sampled.state("motor", "speed").unwrap()];
    let mut worst = [0.0_f64; 2];
    for which in 0..2 {
        let most = times.iter().map(|&t| closed_form(numbers, t)[which].abs()).fold(0.0, f64::max);
        for (&t, found) in times.iter().zip(&found[which]) {
            worst[which] = worst[which].max((found - closed_form(numbers, t)[which]).abs() / most);
        }
    }
    println!("{numbers:?}: {worst:?}, {:?}", run.counters);
    worst
}

#[test]
fn exact_real_and_complex_poles() {
    // Invented numbers: R, L, K, J, B, V. Real poles need (R/L + B/J)² > 4 (RB + K²)/(LJ).
    for (numbers, until) in
        [([0.055, 120e-6, 0.045, 0.004, 1e-4, 12.6], 0.5), ([0.025, 400e-6, 0.045, 0.0008, 1e-4, 12.6], 0.2)]
    {
        let [r, l, k, j, b, _]: [f64; 6] = numbers;
        let real = (r / l + b / j).powi(2) > 4.0 * (r * b + k * k) / (l * j);
        assert_eq!(real, j > 0.001);
        let found = worst(numbers, until);
        assert!(found.iter().all(|&error| error < 1e-6), "{numbers:?}: {found:?}");
    }
}

#[test]
fn val_speed_tutorial() {
    let data = reference("dc_motor_examples.toml", "ctms_speed");
    let [r, l, k, j, b] = ["R", "L", "K", "J", "b"].map(|key| number(&data, key));
    let found = worst([r, l, k, j, b, 1.0], 5.0);
    assert!(found.iter().all(|&error| error < 1e-6), "{found:?}");
    let mut armature = motor(r, l, k, j);
    armature.viscous_friction = stallpoint::quantity::AngularDamping::from_si(b);
    let circuit = on_source(1.0, armature);
    let exact = number(&data, "final_speed_per_V");
    let op = circuit.operating_point().unwrap().state("motor", "speed").unwrap();
    assert!((op / exact - 1.0).abs() < 1e-6, "{op} against {exact}");
    let run = circuit.transient(5.0, &TransientOptions::rtol(1e-6)).unwrap();
    let settled =
        run.crossing(&Signal::State("motor".into(), "speed".into()), 0.98 * exact, true, 0.0).unwrap().unwrap();
    // Printed to two decimals.
    assert!((settled - number(&data, "settling_time_2pct_s")).abs() < 0.005, "{settled}");
}

#[test]
fn val_position_tutorial() {
    let data = reference("dc_motor_examples.toml", "ctms_position");
    let [r, l, k, j, b] = ["R", "L", "K", "J", "b"].map(|key| number(&data, key));
    // Poles 2.5e4 apart: stiff. Over the slow time only; the fast one is 0.7 µs.
    let found = worst([r, l, k, j, b, 1.0], 0.15);
    assert!(found.iter().all(|&error| error < 1e-6), "{found:?}");
    let mut armature = motor(r, l, k, j);
    armature.viscous_friction = stallpoint::quantity::AngularDamping::from_si(b);
    let op = on_source(1.0, armature).operating_point().unwrap().state("motor", "speed").unwrap();
    assert!((op / number(&data, "final_speed_per_V") - 1.0).abs() < 1e-6, "{op}");
}
