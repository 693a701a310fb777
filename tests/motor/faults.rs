//! What a faulty motor does.

use super::build::{close, loaded, on_source, running};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::PermanentMagnetMotor;
use stallpoint::parts::motor::DeadSpot;
use stallpoint::quantity::{Angle, Fraction, Resistance, Voltage};

const V: f64 = 12.0;
const R: f64 = 0.05;
const K: f64 = 0.045;

fn motor() -> PermanentMagnetMotor {
    PermanentMagnetMotor::new(R, 1e-4, K, 0.004).unwrap()
}

fn at_load(change: impl FnOnce(&mut PermanentMagnetMotor), torque: f64) -> Circuit {
    let mut motor = motor();
    change(&mut motor);
    loaded(on_source(V, motor), torque)
}

#[test]
fn exact_worn_brushes_slow_it_and_weaken_its_stall() {
    let worn = |motor: &mut PermanentMagnetMotor| {
        motor.brush_drop = Voltage::from_si(0.8);
        motor.faults.brush_resistance = Resistance::from_si(0.03);
        motor.faults.brush_drop = Voltage::from_si(0.6);
    };
    let op = running(&at_load(worn, 2.0));
    let i = 2.0 / K;
    close(op.state("motor", "speed").unwrap(), (V - 1.4 - 0.08 * i) / K, 1e-9, "speed");
    let op = at_load(worn, 1e3).operating_point().unwrap();
    close(op.current("motor").unwrap(), (V - 1.4) / 0.08, 1e-9, "stall current");
}

#[test]
fn exact_weak_magnets_make_it_faster_and_thirstier() {
    let op = running(&at_load(|motor| motor.magnet_strength = Fraction::from_si(0.8), 2.0));
    let (k, i) = (0.8 * K, 2.0 / (0.8 * K));
    close(op.current("motor").unwrap(), i, 1e-9, "current");
    close(op.state("motor", "speed").unwrap(), (V - R * i) / k, 1e-9, "speed");
    assert!(op.state("motor", "speed").unwrap() > running(&at_load(|_| {}, 2.0)).state("motor", "speed").unwrap());
}

/// Volts, ohms and N·m of an armature of `n` coils in two paths of which `shorted` in one are bridged, turned at `omega`
/// without terminal current: open-circuit voltage, resistance between the brushes, torque that it takes. Each path's
/// equations are solved coil by coil.
fn two_paths(n: f64, shorted: f64, omega: f64) -> [f64; 3] {
    let (e, r) = (2.0 * K * omega / n, 4.0 * R / n); // of one coil
    let (first, second) = (n / 2.0 - shorted, n / 2.0); // coils left in each path
    let around = (second - first) * e / (n - shorted) / r; // current between the paths
    let open = first * e + first * r * around;
    let resistance = first * second * r / (first + second);
    let heat = around * around * r * (n - shorted) + shorted * e * e / r;
    [open, resistance, heat / omega]
}

#[test]
fn exact_shorted_turns_are_those_of_two_unequal_paths() {
    let (n, shorted) = (24.0, 3.0);
    let mut motor = motor();
    motor.faults.shorted_turns = Fraction::from_si(shorted / n);
    // At stall: the resistance between the brushes.
    let op = loaded(on_source(V, motor.clone()), 1e3).operating_point().unwrap();
    let [_, resistance, _] = two_paths(n, shorted, 1.0);
    close(V / op.current("motor").unwrap(), resistance, 1e-9, "resistance");
    // Light running: the motor carries its own braking torque.
    let op = running(&on_source(V, motor));
    let (omega, i) = (op.state("motor", "speed").unwrap(), op.current("motor").unwrap());
    let [open, resistance, torque] = two_paths(n, shorted, omega);
    close(open + resistance * i, V, 1e-9, "voltage");
    close(i * open / omega, torque, 1e-9, "torque");
    assert!(i > 10.0, "shorted turns show as a large current without load: {i} A");
}

#[test]
fn exact_an_open_armature_draws_nothing() {
    let op = at_load(|motor| motor.faults.open = true, 0.1).operating_point().unwrap();
    assert!(op.stuck && op.current("motor").unwrap() < 2e-8, "{}", op.current("motor").unwrap());
}

fn with_dead_spot(motor: &mut PermanentMagnetMotor) {
    let (angle, width) = (Angle::from_si(1.0), Angle::from_si(0.5));
    motor.faults.dead_spot = Some(DeadSpot { angle, width, resistance: Resistance::from_si(5.0) });
}

#[test]
fn exact_it_does_not_start_from_a_dead_spot_and_does_elsewhere() {
    for (start, stuck) in [(1.0, true), (1.2, true), (1.3, false), (0.0, false), (4.0, false)] {
        let op = at_load(
            |motor| {
                with_dead_spot(motor);
                motor.start_angle = Angle::from_si(start);
            },
            1.0,
        )
        .operating_point()
        .unwrap();
        assert_eq!(op.stuck, stuck, "at {start} rad");
    }
}

#[test]
fn prop_a_dead_spot_is_met_once_a_turn() {
    let run = at_load(with_dead_spot, 1.0).transient(0.5, &TransientOptions::default()).unwrap();
    let (current, angle) = (run.current("motor").unwrap(), run.state("motor", "angle").unwrap());
    let turns = angle.windows(2).filter(|pair| pair[1] < pair[0] - 3.0).count();
    let mut dips = 0;
    for pair in current.windows(2) {
        dips += usize::from(pair[0] > 6.0 && pair[1] <= 6.0);
    }
    println!("{turns} turns, {dips} dips, {:?}", run.counters);
    assert!(turns > 10 && dips.abs_diff(turns) <= 1, "{turns} turns, {dips} dips");
    // The angle itself: its unit circle, and the speed's integral.
    let (c, s) = (run.state("motor", "shaft_cosine").unwrap(), run.state("motor", "shaft_sine").unwrap());
    assert!(c.iter().zip(&s).all(|(c, s)| (c * c + s * s - 1.0).abs() < 1e-3));
    let (time, speed) = (run.time(), run.state("motor", "speed").unwrap());
    let turned: f64 = (1..run.len()).map(|k| 0.5 * (speed[k] + speed[k - 1]) * (time[k] - time[k - 1])).sum();
    let found = turns as f64 * std::f64::consts::TAU + angle[run.len() - 1];
    assert!(
        (turned - found).rem_euclid(std::f64::consts::TAU).min((found - turned).rem_euclid(std::f64::consts::TAU))
            < 0.1,
        "{turned} {found}"
    );
}
