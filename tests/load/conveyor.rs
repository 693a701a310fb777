//! A conveyor, level and on a slope.

use crate::support::{G, K, assert_close, assert_energy_adds_up, motor_on, no_motor};
use stallpoint::TransientOptions;
use stallpoint::parts::load::Conveyor;

const RADIUS: f64 = 0.06 / 25.0; // m a radian of the motor

fn conveyor() -> Conveyor {
    Conveyor::new("200 kg", "60 mm", 25.0, 0.8, 0.2).unwrap()
}

#[test]
fn exact_level_it_takes_the_same_both_ways() {
    for volts in [12.0, -12.0_f64] {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", conveyor()).unwrap();
        let op = circuit.operating_point().unwrap();
        let torque = 0.2 * 200.0 * G * RADIUS / 0.8;
        assert_close(op.current("motor").unwrap(), volts.signum() * torque / K, 1e-8, "current");
        let speed = op.state("motor", "speed").unwrap();
        assert_close(op.state("motor.conveyor", "belt_speed").unwrap(), speed * RADIUS, 1e-12, "belt");
    }
}

#[test]
fn exact_a_slope_adds_upward_and_takes_off_downward() {
    let slope = 8.0_f64.to_radians();
    let weight = 200.0 * G * RADIUS;
    for (volts, needed) in
        [(12.0, weight * (0.2 * slope.cos() + slope.sin())), (-12.0_f64, weight * (0.2 * slope.cos() - slope.sin()))]
    {
        let mut circuit = motor_on(volts);
        circuit.attach("motor", Conveyor { slope: "8 deg".parse().unwrap(), ..conveyor() }).unwrap();
        let i = circuit.operating_point().unwrap().current("motor").unwrap();
        assert_close(i, volts.signum() * needed / 0.8 / K, 1e-8, "current");
    }
}

/// Steeper than its friction it runs down, the gear losing its part: a = g (sin β - μ cos β) η_back, all mass on the belt.
#[test]
fn exact_a_steep_slope_overhauls() {
    let steep = Conveyor { slope: "25 deg".parse().unwrap(), ..conveyor() };
    assert!(steep.overhauls() && !conveyor().overhauls());
    let mut circuit = no_motor();
    circuit.add("belt", steep, [("shaft", "s")]).unwrap();
    let run = circuit.transient(0.5, &TransientOptions::rtol(1e-8)).unwrap();
    let slope = 25.0_f64.to_radians();
    let a = G * (slope.sin() - 0.2 * slope.cos()) * (2.0 - 1.0 / 0.8);
    assert_close(*run.state("belt", "belt_speed").unwrap().last().unwrap(), -a * 0.5, 1e-8, "speed");
    assert_energy_adds_up(&run);
}

#[test]
fn exact_time_to_start_grows_with_the_inertia() {
    // J dω/dt = K i - T, R i = V - K ω (inductance far faster): the last part decays with J R / K².
    let mut circuit = motor_on(12.0);
    circuit.attach("motor", Conveyor { drum_inertia: "2 kg m2".parse().unwrap(), ..conveyor() }).unwrap();
    let run = circuit.transient(1.5, &TransientOptions::rtol(1e-8)).unwrap();
    assert_energy_adds_up(&run);
    let end = circuit.operating_point().unwrap().state("motor", "speed").unwrap();
    let at = run.sample(&[0.3, 0.6]).unwrap().state("motor", "speed").unwrap();
    let j: f64 = 0.002 + 2.0 / 625.0 + 200.0 * RADIUS * RADIUS;
    // Slow pole of L J s² + R J s + K² = 0.
    let (l, r) = (150e-6, 0.1);
    let pole = (-r * j + ((r * j).powi(2) - 4.0 * l * j * K * K).sqrt()) / (2.0 * l * j);
    assert_close((end - at[1]) / (end - at[0]), (pole * 0.3).exp(), 1e-5, "decay");
}
