//! Series motors of textbooks.

use super::build::{RPM, close, loaded, number, reference, running, series, series_on_source, straight};
use stallpoint::circuit::{Circuit, TransientOptions};
use stallpoint::parts::load::GravityTorque;
use stallpoint::parts::motor::{Field, Magnetisation, SeriesMotor};
use stallpoint::quantity::Fraction;

/// The textbook motor: 220 V, 100 A, 1000 rpm, straight magnetisation; and its rated torque.
fn dubey() -> (SeriesMotor, f64) {
    let data = reference("dc_motor_examples.toml", "dubey_5_2_series_reversed");
    let (v, i, ra, rs) = (number(&data, "V"), number(&data, "Ia1_A"), number(&data, "Ra_ohm"), number(&data, "Rs_ohm"));
    let k = (v - i * (ra + rs)) / (number(&data, "N1_rpm") * RPM);
    (series(ra, Field::new(rs, 5e-3, straight(k / i)).unwrap(), 5.0), k * i)
}

#[test]
fn val_four_fifths_of_the_turns_at_the_same_torque() {
    let data = reference("dc_motor_examples.toml", "dubey_5_2_series_reversed");
    let (mut motor, torque) = dubey();
    let rated = running(&loaded(series_on_source(number(&data, "V"), motor.clone()), torque));
    close(rated.current("motor").unwrap(), number(&data, "Ia1_A"), 1e-6, "rated current");
    close(rated.state("motor", "speed").unwrap(), number(&data, "N1_rpm") * RPM, 1e-6, "rated speed");
    // The book's field keeps 80 % of its turns, and of its resistance with them.
    motor.field.turns = Fraction::from_si(0.8);
    let weak = running(&loaded(series_on_source(number(&data, "V"), motor), torque));
    // Six and seven printed digits.
    close(weak.current("motor").unwrap(), number(&data, "Ia2_A"), 1e-5, "current");
    close(weak.state("motor", "speed").unwrap() / RPM, number(&data, "N2_rpm"), 1e-5, "speed");
}

/// The machine driven backward by a torque, on a source behind a resistance.
fn driven(volts: f64, ohms: f64, torque: f64, inertia: f64) -> Circuit {
    let (mut motor, _) = dubey();
    motor.rotor.inertia = stallpoint::quantity::Inertia::from_si(inertia);
    let mut circuit = super::build::with_source(volts);
    super::build::resistor(&mut circuit, "brake", ohms, "p", "q");
    let wires =
        [("field_plus", "q"), ("field_minus", "between"), ("armature_plus", "between"), ("armature_minus", "ground")];
    circuit.add("motor", motor, wires).unwrap();
    circuit.attach("motor", GravityTorque::new(torque).unwrap()).unwrap();
    circuit
}

#[test]
fn val_dynamic_braking_at_twice_the_torque() {
    // The same motor as a generator on a resistance, at 800 rpm (the book's ch. 5, example 5.4) and twice the rated torque.
    // With a straight magnetisation the current neither grows nor dies at the book's resistance, whatever its size.
    let data = reference("dc_motor_examples.toml", "dubey_5_4_series_dynamic");
    let (i, rb) = (number(&data, "Ia2_A"), number(&data, "Rb_ohm"));
    let torque = 2.0 * dubey().1;
    // One ohm more and the volts that one ohm takes, so that the machine stands at the book's point.
    let before = running(&driven(i, rb + 1.0, torque, 1e9));
    close(before.current("motor").unwrap(), i, 1e-5, "current at twice the torque");
    close(before.state("motor", "speed").unwrap() / RPM, -800.0, 1e-3, "speed");
    for (factor, sign) in [(0.99, 1.0), (1.0, 0.0), (1.01, -1.0)] {
        let options = TransientOptions { start: Some(before.as_start()), ..TransientOptions::rtol(1e-7) };
        let run = driven(0.0, rb * factor, torque, 1e9).transient(0.2, &options).unwrap();
        let change = run.current("motor").unwrap()[run.len() - 1] / i - 1.0;
        println!("{factor} of the resistance: {change:e}");
        if sign == 0.0 {
            // The print's three digits leave 3e-3 of the resistance open.
            assert!(change.abs() < 0.02, "{change}");
        } else {
            assert!(change * sign > 0.1, "{change}");
        }
    }
}

#[test]
fn val_starting_torque_of_a_five_horsepower_motor() {
    // Five metric horsepower at 1000 rpm and 30 A; the start draws 45 A. Open textbook companion, book 1445, example 8.30.
    let data = reference("dc_motor_examples.toml", "tbc1445_8_30_series_start");
    let torque = 5.0 * 735.5 / (1000.0 * RPM);
    let field = Field::new(0.1, 5e-3, straight(torque / (30.0 * 30.0))).unwrap();
    // Held on the voltage that drives 45 A.
    let held = loaded(series_on_source(45.0 * 0.3, series(0.2, field, 1.0)), 1e6).operating_point().unwrap();
    assert!(held.stuck);
    close(held.current("motor").unwrap(), 45.0, 1e-9, "starting current");
    close(held.state("motor", "torque").unwrap(), number(&data, "T_start_Nm"), 1e-6, "starting torque");
}

#[test]
fn val_magnetisation_goes_through_the_measured_points_and_never_falls() {
    let data = reference("dc_motor_examples.toml", "dubey_5_5_shunt_magnetisation");
    let (i, e) = (super::build::numbers(&data, "If_A"), super::build::numbers(&data, "E_V_at_600rpm"));
    let curve = Magnetisation::measured("600 rpm", i.iter().copied().zip(e.iter().copied())).unwrap();
    let constant = |i: f64| curve.constant_at(i).unwrap();
    for (i, e) in i.iter().zip(&e) {
        assert!((constant(*i) * 600.0 * RPM / e - 1.0).abs() < 1e-12);
        assert_eq!(constant(-i), -constant(*i));
    }
    let all: Vec<f64> = (0..600).map(|k| constant(0.05 * f64::from(k))).collect();
    assert!(all.windows(2).all(|pair| pair[1] > pair[0]));
    // Leaving out every second point, the curve foretells those better than straight lines between the points kept.
    let half: Vec<(f64, f64)> = i.iter().copied().zip(e.iter().copied()).skip(1).step_by(2).collect();
    let coarse = Magnetisation::measured("600 rpm", half.iter().copied()).unwrap();
    let (mut smooth, mut straight) = (0.0, 0.0);
    for (i, e) in i.iter().copied().zip(e.iter().copied()).step_by(2) {
        let above = half.iter().position(|point| point.0 > i).unwrap();
        let (low, high) = (if above == 0 { (0.0, 0.0) } else { half[above - 1] }, half[above]);
        let line = low.1 + (high.1 - low.1) * (i - low.0) / (high.0 - low.0);
        let found = coarse.constant_at(i).unwrap() * 600.0 * RPM;
        println!("{i} A: {found} V, on a straight line {line} V, measured {e} V");
        smooth += (found - e).powi(2);
        straight += (line - e).powi(2);
    }
    assert!(smooth < straight, "squares of the misses: {smooth} against {straight} V^2");
}

#[test]
fn exact_locked_rotor_rise_without_eddies() {
    // i = V/R (1 - exp(-t R/L)), the field's eddies too fast to matter.
    let mut field = Field::new(0.05, 4e-3, straight(0.02)).unwrap();
    field.eddy_time = stallpoint::quantity::Time::from_si(1e-9);
    let motor = series(0.05, field, 1.0);
    let circuit = loaded(series_on_source(10.0, motor), 1e9);
    let tau = (1e-3 + 4e-3) / 0.1;
    let run = circuit.transient(5.0 * tau, &TransientOptions::rtol(1e-8)).unwrap();
    let times: Vec<f64> = (1..20).map(|k| 0.25 * tau * f64::from(k)).collect();
    let sampled = run.sample(&times).unwrap();
    for (t, i) in times.iter().zip(sampled.current("motor").unwrap()) {
        let exact = 100.0 * (1.0 - (-t / tau).exp());
        assert!((i / exact - 1.0).abs() < 1e-6, "{t}: {i} against {exact}");
    }
}

#[test]
fn exact_energy_of_a_start_with_saturation_adds_up() {
    let curve = Magnetisation::measured("1000 rpm", [(50.0, 100.0), (100.0, 160.0), (200.0, 200.0)]).unwrap();
    let motor = series(0.05, Field::new(0.05, 5e-3, curve).unwrap(), 0.5);
    let circuit = loaded(series_on_source(220.0, motor), 50.0);
    for rtol in [1e-4, 1e-6, 1e-8] {
        let run = circuit.transient(1.0, &TransientOptions::rtol(rtol)).unwrap();
        let residual = run.energy.residual() / run.energy.delivered();
        println!("{rtol:e}: {residual:e} {:?}", run.counters);
        assert!(residual.abs() <= rtol.max(1e-6), "{rtol:e}: {residual:e}");
    }
}
