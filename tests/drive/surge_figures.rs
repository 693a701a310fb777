//! The figures of a start against its own curves.

use stallpoint::drive::Direction;

use super::support::{boat_lift, start};

/// The trapezoidal rule on a fine grid of the dense output.
#[test]
fn exact_i2t_ends_with_the_surge() {
    for direction in Direction::BOTH {
        let run = start(&boat_lift(), direction, 1.0);
        let until = run.surge.time_to_speed.unwrap();
        let steps = 200_000;
        let grid: Vec<f64> = (0..=steps).map(|k| until * f64::from(k) / f64::from(steps)).collect();
        let currents = run.sample(&grid).unwrap().current("breaker").unwrap();
        let squares: f64 = currents.windows(2).map(|i| 0.5 * (i[0] * i[0] + i[1] * i[1])).sum();
        let expected = squares * until / f64::from(steps);
        let found = run.surge.surge_i2t;
        assert!((found / expected - 1.0).abs() < 1e-3, "{direction}: {found} against {expected} A²s");
    }
}

#[test]
fn exact_the_peak_is_the_largest_of_the_curve() {
    let run = start(&boat_lift(), Direction::Forward, 1.0);
    let at = run.sample(&[run.surge.time_of_peak]).unwrap().current("breaker").unwrap()[0];
    assert!((at / run.surge.peak_current - 1.0).abs() < 1e-9);
    let grid: Vec<f64> = (0..=100_000).map(|k| f64::from(k) * 1e-5).collect();
    let largest = run.sample(&grid).unwrap().current("breaker").unwrap().into_iter().fold(0.0, f64::max);
    assert!(largest <= run.surge.peak_current * (1.0 + 1e-12));
    let speed = run.sample(&[run.surge.time_to_speed.unwrap()]).unwrap().state("motor", "speed").unwrap()[0];
    let settled = boat_lift().settled_speed(Direction::Forward).unwrap().unwrap();
    assert!((speed / (0.95 * settled) - 1.0).abs() < 1e-6, "{speed} of {settled}");
}
