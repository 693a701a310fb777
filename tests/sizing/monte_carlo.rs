//! Streams, Monte Carlo and sensitivities.

use stallpoint::circuit::{Flow, TransientOptions};
use stallpoint::studies::sizing::{MonteCarloOptions, Stream, Tolerance, monte_carlo, sensitivities};
use stallpoint::studies::sweep::Measure;

use super::support::with;

/// Moments of many draws over streams of neighbouring indices: they must be as independent as draws within one stream.
#[test]
fn exact_streams_are_even_normal_and_unrelated() {
    let count = 20_000;
    let draws: Vec<f64> = (0..count).map(|index| Stream::new(9, index).uniform()).collect();
    let n = count as f64;
    let mean = draws.iter().sum::<f64>() / n;
    let variance = draws.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
    let related = draws.windows(2).map(|pair| (pair[0] - mean) * (pair[1] - mean)).sum::<f64>() / n / variance;
    // Five standard errors: 1/sqrt(12 n), and 1/sqrt(n) of a correlation.
    assert!((mean - 0.5).abs() < 5.0 / (12.0 * n).sqrt() && related.abs() < 5.0 / n.sqrt(), "{mean} {related}");
    assert!((variance * 12.0 - 1.0).abs() < 0.05, "{variance}");
    let mut stream = Stream::new(1, 2);
    let normal: Vec<f64> = (0..count).map(|_| stream.normal()).collect();
    let mean = normal.iter().sum::<f64>() / n;
    let variance = normal.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
    assert!(mean.abs() < 5.0 / n.sqrt() && (variance - 1.0).abs() < 5.0 * (2.0 / n).sqrt(), "{mean} {variance}");
}

#[test]
fn exact_the_same_draws_for_any_number_of_threads_and_samples() {
    let drive = with(&[]);
    let tolerances =
        [Tolerance::interval("battery.state_of_charge", 0.5, 1.0), Tolerance::normal("motor.resistance", 0.042, 0.001)];
    let measures = Measure::list(["peak_current", "time_to_speed"]).unwrap();
    let run = |samples: usize, threads: usize, seed: u64| {
        let options =
            MonteCarloOptions { samples, threads: Some(threads), seed, hold: 0.2, ..MonteCarloOptions::default() };
        monte_carlo(&drive, &tolerances, &measures, &options, &mut |_| Flow::Continue).unwrap()
    };
    let (one, two, more) = (run(8, 1, 7), run(8, 2, 7), run(12, 2, 7));
    assert_eq!(one, two);
    assert_eq!(one.values[0], more.values[0][..8]); // a case depends on seed and number only
    assert_ne!(one.draws, run(8, 1, 8).draws);
    assert_eq!(one.quantile("peak_current", 0.0).unwrap(), one.values[0].iter().copied().fold(f64::INFINITY, f64::min));
    assert!(one.values("speed").is_err());
}

/// A case that cannot be made keeps its row and its reason.
#[test]
fn exact_a_failed_case_keeps_its_row() {
    let tolerances = [Tolerance::interval("supply_cable.length", -3.0, 3.0)];
    let options = MonteCarloOptions { samples: 10, seed: 1, hold: 0.1, ..MonteCarloOptions::default() };
    let measures = Measure::list(["peak_current"]).unwrap();
    let drive = with(&[]);
    let found = monte_carlo(&drive, &tolerances, &measures, &options, &mut |_| Flow::Continue);
    // The lower end itself does not fit the part, which is told at once.
    assert!(found.unwrap_err().to_string().contains("length"));
    let options =
        MonteCarloOptions { transient: TransientOptions { max_steps: 10, ..TransientOptions::default() }, ..options };
    let charge = [Tolerance::interval("battery.state_of_charge", 0.5, 1.0)];
    let found = monte_carlo(&drive, &charge, &measures, &options, &mut |_| Flow::Continue).unwrap();
    assert_eq!((found.failures.len(), found.failures.iter().flatten().count()), (10, 10));
    assert!(
        found.values[0].iter().all(|value| value.is_nan()) && found.failures[0].as_ref().unwrap().contains("max_steps")
    );
}

/// Stalled, the peak is V/R: d ln i / d ln R of the loop's parts is their share of its resistance.
#[test]
fn exact_sensitivity_of_a_stall_current() {
    let locked = [
        ("load.0.breakaway", "1000 N m"),
        ("load.0.running", "1000 N m"),
        ("motor.brush_drop", "0 V"),
        ("battery.polarisation_capacitance", "1 MF"),
    ];
    let mut drive = with(&locked);
    let stallpoint::parts::motor::Motor::PermanentMagnet(motor) = &mut drive.motor else { unreachable!() };
    motor.heat_capacity = None; // a winding that does not warm
    let options =
        MonteCarloOptions { hold: 0.3, transient: TransientOptions::rtol(1e-8), ..MonteCarloOptions::default() };
    let measures = Measure::list(["peak_motor_current"]).unwrap();
    let found =
        sensitivities(&drive, &["motor.resistance", "battery.series_resistance"], &measures, &options, &mut |_| {
            Flow::Continue
        })
        .unwrap();
    let [motor, battery] = &found[..] else { panic!("{found:?}") };
    assert_eq!((motor.at, battery.at), (0.042, 0.006));
    // Both shares belong to one loop: by their resistances as 42 to 6. The battery feeds the coil besides.
    assert!((motor.elasticity / battery.elasticity / 7.0 - 1.0).abs() < 0.02, "{motor:?} {battery:?}");
    // The whole loop's resistance from the stall current itself.
    let loop_resistance = drive.battery.open_circuit_voltage() / motor.value;
    assert!((-motor.elasticity / (0.042 / loop_resistance) - 1.0).abs() < 0.01, "{motor:?}");
}
