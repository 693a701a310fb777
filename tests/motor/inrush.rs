//! The measured start-up current of a small motor: its shape and time constant.

use super::build::{on_source, reference_text};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::quantity::Torque;

/// Time and current of the readings that are not spoiled, from the column after the switching on.
fn readings() -> Vec<(f64, f64)> {
    let text = reference_text("motor_inrush_2V.csv");
    let rows = text.lines().filter(|line| line.starts_with('2')).map(|line| {
        let cells: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        (cells[1], cells[2], cells[4])
    });
    rows.filter(|(t, _, spoiled)| *t > 0.0 && *spoiled == 0.0).map(|(t, i, _)| (t, i)).collect()
}

/// The model's current at the times of the readings. `J R / K²` is the time constant; `K` alone does not show in the current.
fn model(first: f64, last: f64, tau: f64, times: &[f64]) -> Vec<f64> {
    let (r, k) = (2.0 / first, 2e-3);
    let mut motor = PermanentMagnetMotor::new(r, 1e-5, k, tau * k * k / r).unwrap();
    motor.friction = Torque::from_si(k * last);
    let run = on_source(2.0, motor).transient(0.6, &TransientOptions::rtol(1e-6)).unwrap();
    run.sample(times).unwrap().current("motor").unwrap()
}

#[test]
fn val_start_up_current_has_the_measured_shape_and_time_constant() {
    let readings = readings();
    let (times, measured): (Vec<f64>, Vec<f64>) = readings.iter().copied().unzip();
    let rms = |p: [f64; 3]| {
        let found = model(p[0], p[1], p[2], &times);
        (found.iter().zip(&measured).map(|(a, b)| (a - b) * (a - b)).sum::<f64>() / times.len() as f64).sqrt()
    };
    // The best first current, running current and time constant, by halving steps along each.
    let mut best = [0.75, 0.2, 0.06];
    let mut steps = [0.04, 0.02, 0.01];
    let mut least = rms(best);
    for _ in 0..40 {
        let mut moved = false;
        for k in 0..3 {
            for sign in [1.0, -1.0] {
                let mut trial = best;
                trial[k] += sign * steps[k];
                let error = rms(trial);
                if error < least {
                    (best, least, moved) = (trial, error, true);
                }
            }
        }
        if !moved {
            steps = steps.map(|step| 0.5 * step);
        }
    }
    println!("first {:.3} A, running {:.3} A, tau {:.1} ms, rms {:.4} A", best[0], best[1], 1e3 * best[2], least);
    // The file's own fit of an exponential, within three of its standard deviations; running current within its reading
    // error.
    assert!((best[0] - 0.824).abs() < 3.0 * 0.015, "{best:?}");
    assert!((best[1] - 0.155).abs() < 0.03, "{best:?}");
    assert!((best[2] - 0.085).abs() < 3.0 * 0.003, "{best:?}");
    // The shape: no worse than the readings themselves, 0.03 A.
    assert!(least < 0.03, "{least}");
}
