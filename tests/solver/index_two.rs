//! Two inductors in series: their currents are one, their common node's voltage is determined only by a derivative.

use super::model::{Model, Problem, rtol};

const L1: f64 = 1e-3;
const L2: f64 = 3e-3;
const R: f64 = 0.5;
const U: f64 = 12.0;

/// Unknowns: both currents, the voltage between them. `L1 i1' = u - v`, `L2 i2' = v - R i2`, `0 = i1 - i2`.
#[derive(Clone)]
struct Series;

impl Model for Series {
    fn differential(&self) -> Vec<bool> {
        vec![true, true, false]
    }

    fn equations(&self, _t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]) {
        (q[0], q[1]) = (L1 * x[0], L2 * x[1]);
        f[0] = x[2] - U;
        f[1] = R * x[1] - x[2];
        f[2] = x[0] - x[1];
    }
}

#[test]
fn exact_series_inductors_share_their_current() {
    for (tolerance, allowed) in [(1e-4, 1e-4), (1e-6, 1e-6), (1e-8, 1e-7)] {
        let record = Problem::new(Series).run((0.0, 0.05), &[0.0, 0.0, 0.0], &rtol(tolerance)).unwrap();
        let tau = (L1 + L2) / R;
        let (mut current, mut voltage) = (0.0_f64, 0.0_f64);
        for step in &record.steps {
            let exact = U / R * (1.0 - (-step.t1 / tau).exp());
            let between = U - L1 * U / (L1 + L2) * (-step.t1 / tau).exp();
            current = current.max((step.x1[0] - exact).abs().max((step.x1[1] - exact).abs()) / (U / R));
            voltage = voltage.max((step.x1[2] - between).abs() / U);
        }
        println!("{tolerance:e}: current {current:e}, voltage {voltage:e}, {:?}", record.ended.unwrap().counters);
        assert!(current < allowed, "{tolerance:e}: current {current:e}");
        assert!(voltage < allowed, "{tolerance:e}: voltage {voltage:e}");
    }
}

#[test]
fn exact_unequal_currents_at_the_start_become_equal_by_their_flux() {
    // L1 i1 + L2 i2 is what survives: (1e-3 · 8 + 3e-3 · 0) / 4e-3 = 2 A.
    let options = rtol(1e-6);
    let record = Problem::new(Series).run((0.0, 1e-6), &[8.0, 0.0, 0.0], &options).unwrap();
    let (start, t0) = (&record.steps[0].x0, record.steps[0].t0);
    // The restart takes a nanosecond or so, in which the current rises by (U - R i) / (L1 + L2).
    let exact = 2.0 + (U - 2.0 * R) / (L1 + L2) * t0;
    assert!(t0 < 2e-9, "{t0}");
    assert!((start[0] - exact).abs() < 1e-9 && (start[1] - exact).abs() < 1e-9, "{start:?}");
    // No impulse is left in the voltage: v = u - L1 (u - R i)/(L1 + L2).
    assert!((start[2] - (U - 0.25 * (U - 2.0 * R))).abs() < 1e-3, "{start:?}");
}
