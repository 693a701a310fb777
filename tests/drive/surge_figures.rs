//! The figures of a start against its own curves.

use stallpoint::circuit::{OperatingOptions, StartFrom};
use stallpoint::drive::{Direction, Drive};

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

/// Without a hanging load a drive is alike both ways, and so must its figures be. At 24 V an arc drawn by the contactor's
/// rest contacts could burn on, were they opened on a turning motor.
#[test]
fn exact_a_drive_alike_both_ways_starts_alike() {
    let winch = r#"
        schema = 1
        name = "Gate winch" # invented, plausible, no source
        battery = { chemistry = "lithium_iron_phosphate", blocks_in_series = 2, capacity = "200 Ah", series_resistance = "4 mohm" }
        breaker = { rated_current = "150 A", trip_band = { points = { fastest = [[1.1, 900], [3, 3]], slowest = [[1.35, 1800], [3, 18]] } } }
        supply_cable = { cross_section = "35 mm2", length = "12 m" }
        ground_cable = { cross_section = "35 mm2", length = "12 m" }
        [contactor]
        pull_in_voltage = "16 V"
        drop_out_voltage = "8 V"
        coil = { rated_voltage = "24 V", resistance = "30 ohm" }
        [motor]
        kind = "permanent_magnet"
        resistance = "35 mohm"
        inductance = "0.15 mH"
        torque_constant = "0.09 N m/A"
        inertia = "0.004 kg m2"
        brush_drop = "1.5 V"
        [[load]]
        kind = "resisting_torque"
        running = "5 N m"
        breakaway = "8 N m"
    "#;
    let winch = Drive::from_toml_str(winch).unwrap();
    let [forward, reverse] = Direction::BOTH.map(|direction| {
        for start in [StartFrom::Standstill, StartFrom::Running] {
            for settled in [false, true] {
                let op = winch.operating_point(Some(direction), &OperatingOptions { start, settled }).unwrap();
                let (speed, current) = (op.state("motor", "speed").unwrap(), op.current("motor").unwrap());
                // All the torque there is, and the volts left over after the motor's own drops.
                assert!((current * direction.sign() - 5.0 / 0.09).abs() < 1e-6);
                let across = op.voltage("motor_a").unwrap() - op.voltage("motor_b").unwrap();
                assert!((across - 0.035 * current - 1.5 * direction.sign() - 0.09 * speed).abs() < 1e-6);
                // Beside the motor the breaker carries nothing but coil current: no arc burns.
                assert!((op.current("breaker").unwrap() - 5.0 / 0.09).abs() < 2.0, "{start:?} {settled}");
            }
        }
        start(&winch, direction, 1.0).surge
    });
    for (a, b) in [
        (forward.time_to_speed.unwrap(), reverse.time_to_speed.unwrap()),
        (forward.surge_i2t, reverse.surge_i2t),
        (forward.peak_current, reverse.peak_current),
    ] {
        assert!((a / b - 1.0).abs() < 1e-6, "{a} and {b}");
    }
}
