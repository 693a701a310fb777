//! The filament lamp against measured lamps, its own balance of heat, and the law of its light.

use crate::support::{assert_close, behind};
use stallpoint::TransientOptions;
use stallpoint::circuit::{At, LocalEquations, Part};
use stallpoint::instruments::{Instrument, InstrumentError, Word};
use stallpoint::parts::{Brightness, TestLamp};

const MEASURED: &str = include_str!("../reference/filament_lamp.toml");

fn lamp() -> TestLamp {
    TestLamp::new("12 V", "21 W").unwrap()
}

/// Current of a lamp on a stiff source once it is hot.
fn current(lamp: &TestLamp, volts: f64) -> f64 {
    let mut circuit = behind(volts, "1 uohm");
    circuit.add("lamp", lamp.clone(), [("a", "stud"), ("b", "ground")]).unwrap();
    circuit.operating_point().unwrap().current("lamp").unwrap()
}

fn row(table: &toml::Value, key: &str) -> Vec<f64> {
    table[key].as_array().unwrap().iter().map(|value| value.as_float().unwrap()).collect()
}

#[test]
fn exact_the_rated_point() {
    assert_close(current(&lamp(), 12.0), 21.0 / 12.0, 1e-6, "current");
}

/// Logarithmic slope of current by voltage near the rated point, measured on a lamp of 2.5 V: 0.487.
#[test]
fn val_log_slope_of_the_current() {
    let measured: toml::Value = toml::from_str(MEASURED).unwrap();
    let slope = measured["lamp_2V5"]["derived"]["log_slope_I_vs_V_top4"].as_float().unwrap();
    // The four highest voltages, 1.527 V to 2.948 V of 2.464 V, as shares of the rating.
    let (low, high) = (1.527 / 2.464, 2.948 / 2.464);
    let own = f64::ln(current(&lamp(), 12.0 * high) / current(&lamp(), 12.0 * low)) / f64::ln(high / low);
    println!("slope {own} against {slope}");
    assert!((own - slope).abs() < 0.01, "{own} against {slope}");
}

/// Seven measured points of a 2.5 V lamp, from a tenth of its voltage, by its rated point and its cold resistance alone.
#[test]
fn val_measured_volts_and_amperes() {
    let measured: toml::Value = toml::from_str(MEASURED).unwrap();
    let table = &measured["lamp_2V5"];
    let (volts, amperes) = (row(table, "V"), row(table, "I"));
    let rated = 5; // 2.464 V is the point nearest to its 2.5 V
    let lamp = TestLamp {
        cold_resistance: Some(format!("{} ohm", table["R0_cold_ohm"]).parse().unwrap()),
        ..TestLamp::new(volts[rated], volts[rated] * amperes[rated]).unwrap()
    };
    for (v, i) in volts.iter().zip(&amperes) {
        let own = current(&lamp, *v);
        println!("{v} V: {own} A against {i} A, {:+.1} %", 100.0 * (own / i - 1.0));
        // The measured cold resistance includes leads and socket, which counts most where the filament is cold.
        let limit = if *v > 0.4 * volts[rated] { 0.02 } else { 0.16 };
        assert_close(own, *i, limit, &format!("{v} V"));
    }
}

#[test]
fn exact_derivatives() {
    let lamp = lamp();
    let memory = lamp.memory();
    let x = [9.0, 0.5, 1400.0];
    let equations = |x: &[f64]| {
        let mut local = LocalEquations::new(3);
        lamp.evaluate(&At::alone(0.0, x, &memory, &[0, 1, 2]), &mut local.stamp());
        local
    };
    let own = equations(&x);
    for column in 0..3 {
        let step = 1e-6 * x[column];
        let (mut above, mut below) = (x, x);
        above[column] += step;
        below[column] -= step;
        let (above, below) = (equations(&above), equations(&below));
        for row in 0..3 {
            let difference = (above.f[row] - below.f[row]) / (2.0 * step);
            assert!((own.df[row * 3 + column] - difference).abs() <= 1e-6 * difference.abs() + 1e-8, "{row} {column}");
        }
    }
}

/// A cold filament draws many times its rated current, and the heat adds up while it warms.
#[test]
fn exact_warming_up() {
    let mut circuit = behind(12.0, "0.1 ohm");
    circuit.add("lamp", lamp(), [("a", "stud"), ("b", "ground")]).unwrap();
    let run = circuit.transient(2.0, &TransientOptions::rtol(1e-8)).unwrap();
    let (residual, delivered) = (run.energy.residual(), run.energy.delivered());
    assert!(residual.abs() <= 1e-6 * delivered, "{residual} of {delivered}");
    let i = run.current("lamp").unwrap();
    let cold = lamp().resistance() * (293.15_f64 / 2500.0).powf(1.2); // the documented law
    assert_close(i[0], 12.0 / (0.1 + cold), 1e-5, "inrush");
    let op = circuit.operating_point().unwrap();
    assert_close(*i.last().unwrap(), op.current("lamp").unwrap(), 1e-5, "settled");
    let light = run.state("lamp", "light").unwrap();
    assert!(light.windows(2).all(|pair| pair[1] >= pair[0] - 1e-9), "brightens steadily");
}

/// Light as the voltage to the power 3.4, by the lamp's own terminal voltage.
#[test]
fn exact_light_follows_the_voltage() {
    for joint in ["1 ohm", "3 ohm", "10 ohm"] {
        let mut circuit = behind(12.0, joint);
        circuit.add("lamp", lamp(), [("a", "stud"), ("b", "ground")]).unwrap();
        let op = circuit.operating_point().unwrap();
        let light = op.state("lamp", "light").unwrap();
        println!(
            "{joint}: {:.3} V, {:.2} W, light {:.1} %",
            op.voltage("stud").unwrap(),
            op.state("lamp", "power").unwrap(),
            100.0 * light
        );
        assert_close(light, (op.voltage("stud").unwrap() / 12.0).powf(3.4), 1e-6, joint);
    }
}

#[test]
fn exact_the_word() {
    for (joint, word) in [
        ("0.1 ohm", Brightness::Bright),
        ("3 ohm", Brightness::Dim),
        ("10 ohm", Brightness::Glow),
        ("100 ohm", Brightness::Dark),
    ] {
        let reading = Instrument::TestLamp(lamp()).read(&behind(12.0, joint), "stud", "ground").unwrap();
        assert_eq!(reading.word, Some(Word::Brightness(word)), "{joint}: {reading}");
    }
}

#[test]
fn exact_above_its_rating_it_is_refused() {
    let error = Instrument::TestLamp(lamp()).read(&behind(25.0, "5 ohm"), "stud", "ground").unwrap_err();
    assert!(matches!(error, InstrumentError::AboveRating { .. }));
    let text =
        "a 12 V lamp from \"stud\" to \"ground\": 25.000 V are there, more than its 15 V; take a lamp for that voltage";
    assert_eq!(error.to_string(), text);
    let error = Instrument::TestLamp(lamp()).read(&behind(-25.0, "5 ohm"), "stud", "ground").unwrap_err();
    assert!(matches!(error, InstrumentError::AboveRating { voltage, .. } if voltage == -25.0));
    let strong = TestLamp { highest_voltage: Some("30 V".parse().unwrap()), ..lamp() };
    Instrument::TestLamp(strong).read(&behind(25.0, "5 ohm"), "stud", "ground").unwrap();
}

#[test]
fn exact_refusals_name_the_argument() {
    let cold = TestLamp { cold_resistance: Some("6 ohm".parse().unwrap()), ..lamp() };
    assert_eq!(
        cold.check().unwrap_err().to_string(),
        "`cold_resistance` is 6 ohm, but must be a half to a twentieth of the hot resistance, 6.857 ohm"
    );
    let low = TestLamp { highest_voltage: Some("10 V".parse().unwrap()), ..lamp() };
    assert_eq!(
        low.check().unwrap_err().to_string(),
        "`highest_voltage` is 10 V, but must be at least the rated voltage, 12 V"
    );
}
