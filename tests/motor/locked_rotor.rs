//! A measured locked rotor: a brush drop before the resistance, and what an ohmmeter makes of it.

use super::build::{close, loaded, number, numbers, on_source, reference};
use stallpoint::circuit::Circuit;
use stallpoint::parts::{CurrentSource, PermanentMagnetMotor};
use stallpoint::quantity::{Current, Voltage};

/// Resistance and drop of the straight line through the readings.
fn line(i: &[f64], v: &[f64]) -> (f64, f64) {
    let n = i.len() as f64;
    let (mi, mv) = (i.iter().sum::<f64>() / n, v.iter().sum::<f64>() / n);
    let slope = i.iter().zip(v).map(|(i, v)| (i - mi) * (v - mv)).sum::<f64>()
        / i.iter().map(|i| (i - mi) * (i - mi)).sum::<f64>();
    (slope, mv - slope * mi)
}

fn motor() -> PermanentMagnetMotor {
    let data = reference("motor_locked_rotor.toml", "");
    let (r, drop) = line(&numbers(&data, "locked_A"), &numbers(&data, "locked_V"));
    // Four printed digits.
    close(r, number(&data, "fit_R_ohm"), 1e-3, "resistance");
    close(drop, number(&data, "fit_V0_V"), 1e-3, "brush drop");
    PermanentMagnetMotor {
        brush_drop: Voltage::from_si(drop),
        // Below the smallest measured current the drop is there in full.
        brush_current: Current::from_si(0.05),
        ..PermanentMagnetMotor::new(r, 1e-3, 0.02, 1e-5).unwrap()
    }
}

#[test]
fn val_held_currents_at_the_measured_voltages() {
    let data = reference("motor_locked_rotor.toml", "");
    let residuals = numbers(&data, "fit_residual_mV");
    for (k, (i, v)) in numbers(&data, "locked_A").iter().zip(numbers(&data, "locked_V")).enumerate() {
        let op = loaded(on_source(v, motor()), 1e3).operating_point().unwrap();
        assert!(op.stuck);
        let found = op.current("motor").unwrap();
        // The line through three points leaves these millivolts, measured less fitted; 0.6 mV for the digits printed.
        let left = 1e3 * number(&data, "fit_R_ohm") * (found - i);
        println!("{v} V: {found} A against {i} A, {left} mV against {} mV", residuals[k]);
        assert!((left - residuals[k]).abs() < 0.6, "{left}");
    }
}

#[test]
fn val_voltage_over_current_misreads_the_resistance() {
    let data = reference("motor_locked_rotor.toml", "");
    let op = loaded(on_source(4.43, motor()), 1e3).operating_point().unwrap();
    close(4.43 / op.current("motor").unwrap(), number(&data, "naive_V_over_I_at_0A5_ohm"), 0.01, "naive resistance");
    // An ohmmeter sends a few milliamperes: far below the winding's own resistance times what it reads.
    let mut circuit = Circuit::new();
    circuit.add("meter", CurrentSource::constant(5e-3).unwrap(), [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("motor", motor(), [("plus", "p"), ("minus", "ground")]).unwrap();
    let read = loaded(circuit, 1e3).operating_point().unwrap().voltage("p").unwrap() / 5e-3;
    let range = numbers(&data, "ohmmeter_reading_ohm");
    println!("{read} ohm");
    assert!(read > range[0] && read < range[1], "{read}");
}
