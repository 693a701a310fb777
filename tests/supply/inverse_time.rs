//! Breakers on standard curves against published times.

use crate::support::{SHARE, assert_close, breaker_on};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{Breaker, CurrentSource, TripBand};
use stallpoint::tables::inverse_time::InverseTimeCurve;

fn simulated(curve: InverseTimeCurve, multiple: f64) -> f64 {
    let breaker = Breaker::new("40 A", TripBand::inverse_time(curve, 1.0, 0.0).unwrap()).unwrap();
    let source = CurrentSource::constant(multiple * 40.0 / SHARE).unwrap();
    let options = TransientOptions { stop_at_event_of: Some("breaker".into()), ..TransientOptions::rtol(1e-6) };
    let run = breaker_on(source, breaker).transient(1e4, &options).unwrap();
    assert_eq!(run.events[0].what, "trips");
    run.events[0].time
}

/// The rows of a reference file by column.
fn rows(name: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let cells = |line: &str| line.split(',').map(str::to_owned).collect::<Vec<_>>();
    (cells(lines.next().unwrap()), lines.map(cells).collect())
}

/// Half a unit of the last printed digit, and the solver's 1e-6.
fn assert_prints_as(value: f64, printed: &str, decimals: usize, what: &str) {
    let number: f64 = printed.parse().unwrap();
    let limit = 0.5 * f64::powi(10.0, -i32::try_from(decimals).unwrap()) + 1e-6 * number;
    assert!((value - number).abs() <= limit, "{what}: {value} does not print as {printed}");
}

#[test]
fn val_eight_standard_curves_at_six_multiples() {
    let (columns, rows) = rows("inverse_time.csv"); // IEC 60255-151 table 1; IEEE C37.112
    assert_eq!(rows.len(), 8);
    for (row, curve) in rows.iter().zip(InverseTimeCurve::ALL) {
        assert_eq!(row[0].to_lowercase(), curve.name());
        for (column, printed) in columns.iter().zip(row).skip(4) {
            let multiple = column.trim_start_matches("t_").trim_end_matches('x').parse().unwrap();
            let decimals = printed.split_once('.').map_or(0, |(_, after)| after.len());
            assert_prints_as(simulated(curve, multiple), printed, decimals, &format!("{} {column}", curve.name()));
        }
    }
}

#[test]
fn val_times_printed_in_a_relay_manual() {
    let (_, rows) = rows("inverse_time_printed.csv"); // IEC 60255-151
    assert_eq!(rows.len(), 19);
    for row in rows {
        let multiple = row[0].parse().unwrap();
        for (printed, curve) in
            [(&row[1], InverseTimeCurve::IecStandardInverse), (&row[2], InverseTimeCurve::IecVeryInverse)]
        {
            assert_prints_as(simulated(curve, multiple), printed, 3, &format!("{} at {multiple}", curve.name()));
        }
    }
}

#[test]
fn exact_a_pulse_below_pick_up_leaves_nothing() {
    let curve = InverseTimeCurve::IecExtremelyInverse;
    let breaker = Breaker::new("40 A", TripBand::inverse_time(curve, 1.0, 0.0).unwrap()).unwrap();
    let source = CurrentSource::table([0.0, 10.0, 20.0], [0.0, 39.9 / SHARE, 0.0]).unwrap();
    let run = breaker_on(source, breaker).transient(20.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert!(run.state("breaker", "trip_fraction").unwrap().iter().all(|fraction| *fraction == 0.0));
}

#[test]
fn exact_fraction_grows_in_proportion_to_time() {
    let curve = InverseTimeCurve::IeeeVeryInverse;
    let breaker = Breaker::new("40 A", TripBand::inverse_time(curve, 2.0, "20 %").unwrap()).unwrap();
    let source = CurrentSource::constant(200.0 / SHARE).unwrap();
    let run = breaker_on(source, breaker).transient(1.0, &TransientOptions::rtol(1e-6)).unwrap();
    let time = curve.time(5.0, 2.0).unwrap();
    for (state, factor) in [("trip_fraction_fastest", 0.8), ("trip_fraction_slowest", 1.2)] {
        let fraction = run.sample(&[0.25, 0.75]).unwrap().state("breaker", state).unwrap();
        assert_close(fraction[0], 0.25 / (factor * time), 1e-6, state);
        assert_close(fraction[1], 0.75 / (factor * time), 1e-6, state);
    }
}
