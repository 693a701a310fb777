//! The worked examples 4.1 to 4.5 of G. K. Dubey, Fundamentals of Electrical Drives, ch. 4 (tests/reference/duty.toml, where
//! their data stand in the head and their results, recomputed, in the tables).

use std::f64::consts::TAU;

use stallpoint::studies::duty::{LinearFlow, periodic, rms};
use toml::Table;

use super::support::assert_close;

fn reference(example: &str, key: &str) -> f64 {
    let table: Table = include_str!("../reference/duty.toml").parse().unwrap();
    table[example][key].as_float().unwrap()
}

/// A body that `settles` at a rise with a time constant.
fn body(time_constant: f64, settles: f64) -> LinearFlow {
    LinearFlow::one(1.0 / time_constant, settles / time_constant)
}

/// 4.1: 60 s both ways, clutched 10 s, declutched 20 s towards 15 °C, minimum rise 40 °C.
#[test]
fn val_thermal_cycle() {
    let continuous = reference("thermal_cycle", "theta_continuous_C");
    let round = periodic(&[(10.0, body(60.0, continuous)), (20.0, body(60.0, 15.0))]).unwrap();
    assert_close(round.highest.0, reference("thermal_cycle", "theta_max_C"), 1e-4, "maximum");
    assert_close(round.lowest, 40.0, 1e-4, "minimum, given");
}

/// 4.2: 25000 N·m 10 s; 1 s; reversal 5 s; 1 s; 20000 N·m 15 s; 1 s; reversal 5 s; 1 s, with 10000 kg·m² at 200 rpm.
#[test]
fn val_rms_torque() {
    let speed = 200.0 * TAU / 60.0;
    let reversal = 10_000.0 * 2.0 * speed / 5.0;
    assert_close(reversal, reference("rms_torque", "T_reversal_Nm"), 1e-6, "reversal");
    let pieces =
        [(10.0, 25_000.0), (1.0, 0.0), (5.0, reversal), (1.0, 0.0), (15.0, 20_000.0), (1.0, 0.0), (5.0, reversal)];
    let mut pieces: Vec<_> = pieces.map(|(t, torque)| (t, torque, torque)).into();
    pieces.push((1.0, 0.0, 0.0));
    let torque = rms(&pieces);
    assert_close(torque, reference("rms_torque", "T_rms_Nm"), 1e-6, "torque");
    assert_close(torque * speed / 1e3, reference("rms_torque", "P_kW"), 1e-6, "power");
}

/// 4.3: 0 to 400 kW in 5 min, 500 kW 5 min, 400 kW regenerating 4 min, idle 2 min.
#[test]
fn val_rms_power() {
    let power = rms(&[(5.0, 0.0, 400.0), (5.0, 500.0, 500.0), (4.0, -400.0, -400.0), (2.0, 0.0, 0.0)]);
    assert_close(power, reference("rms_power", "P_rms_kW"), 1e-5, "power");
}

/// 4.4: 60 min heating, 90 min cooling, 20 kW continuous; losses go with the square of the power. What the example answers,
/// 10 min once and 10 min on and 10 min off, must just reach the continuous rise.
#[test]
fn val_short_time_rating() {
    let rise = |power: f64| (power / 20.0_f64).powi(2);
    let once = body(3600.0, rise(reference("short_time_rating", "P_short_kW")));
    let time = once.reaches(0, [0.0, 0.0], 1.0, f64::INFINITY).unwrap();
    assert_close(time, 600.0, 1e-4, "once");
    let on = body(3600.0, rise(reference("short_time_rating", "P_intermittent_kW")));
    let round = periodic(&[(600.0, on), (600.0, body(5400.0, 0.0))]).unwrap();
    assert_close(round.highest.0, 1.0, 1e-4, "on and off");
}

/// 4.5: 100 kW for half an hour, 80 min, maximum efficiency at 70 % load: constant losses are 0.49 of the copper's.
#[test]
fn val_half_hour_to_continuous() {
    let overload = 100.0 / reference("half_hour_to_continuous", "P_continuous_kW");
    let settles = (0.49 + overload * overload) / 1.49;
    let time = body(4800.0, settles).reaches(0, [0.0, 0.0], 1.0, f64::INFINITY).unwrap();
    assert_close(time, 1800.0, 1e-4, "half an hour");
}
