//! Trip band: its interpolation and its refusals.

use crate::support::assert_close;
use stallpoint::parts::TripBand;
use stallpoint::tables::inverse_time::InverseTimeCurve;

fn band() -> TripBand {
    TripBand::points([[1.1, 900.0], [2.0, 20.0], [6.0, 1.0]], [[1.4, 3600.0], [2.0, 80.0], [6.0, 4.0]]).unwrap()
}

#[test]
fn exact_rows_are_met_and_lines_are_straight_on_log_paper() {
    for (p, m, t) in [(0.0, 1.1, 900.0), (0.0, 2.0, 20.0), (0.0, 6.0, 1.0), (1.0, 1.4, 3600.0), (1.0, 6.0, 4.0)] {
        assert_eq!(band().time(p, m), Some(t), "{p} {m}");
    }
    // Half way between two multiples on log paper is half way between their times.
    assert_close(band().time(0.0, f64::sqrt(2.0 * 6.0)).unwrap(), f64::sqrt(20.0), 1e-14, "fastest");
    assert_close(band().time(1.0, f64::sqrt(2.0 * 6.0)).unwrap(), f64::sqrt(80.0 * 4.0), 1e-14, "slowest");
    // Between the edges too.
    assert_close(band().time(0.25, 6.0).unwrap(), f64::powf(4.0, 0.25), 1e-14, "quarter");
}

#[test]
fn exact_beyond_the_last_row_the_let_through_is_constant() {
    for m in [7.0, 12.0, 60.0] {
        assert_close(band().time(0.0, m).unwrap() * m * m, 36.0, 1e-14, "fastest");
        assert_close(band().time(0.5, m).unwrap() * m * m, 2.0 * 36.0, 1e-14, "half");
    }
}

#[test]
fn exact_only_the_fastest_trips_where_the_slowest_does_not() {
    assert!(band().time(0.0, 1.2).is_some());
    for p in [1e-9, 0.5, 1.0] {
        assert_eq!(band().time(p, 1.2), None);
        assert_eq!(band().pick_up(p), 1.4);
    }
    assert_eq!(band().time(0.0, 1.09), None);
    assert_eq!(band().pick_up(0.0), 1.1);
    assert_eq!(band().time(0.0, f64::NAN), None);
}

#[test]
fn exact_tolerance_spreads_a_standard_curve() {
    let band = TripBand::inverse_time(InverseTimeCurve::IecVeryInverse, 0.5, "10 %").unwrap();
    for (p, t) in [(0.0, 0.9), (0.5, f64::sqrt(0.99)), (1.0, 1.1)] {
        assert_close(band.time(p, 3.0).unwrap(), 0.5 * 6.75 * t, 1e-14, "time");
    }
    assert_eq!(band.time(0.0, 1.0), None);
    assert_eq!(band.pick_up(0.5), 1.0);
}

#[test]
fn exact_reads_back_from_a_file() {
    #[derive(serde::Serialize, serde::Deserialize)]
    struct Device {
        trip_band: TripBand,
    }
    let text =
        "trip_band.points = { fastest = [[1.1, 900], [2, 20], [6, 1.0]], slowest = [[1.4, 3600], [2, 80], [6, 4]] }";
    let device: Device = toml::from_str(text).unwrap();
    assert_eq!(device.trip_band, band());
    let again: Device = toml::from_str(&toml::to_string(&device).unwrap()).unwrap();
    assert_eq!(again.trip_band, band());
    let standard: Device = toml::from_str("trip_band.inverse_time = { curve = 'iec_very_inverse' }").unwrap();
    assert_eq!(standard.trip_band, TripBand::inverse_time(InverseTimeCurve::IecVeryInverse, 1.0, 0.0).unwrap());
    let wrong = toml::from_str::<Device>("trip_band.curve = { fastest = [] }").err().unwrap().to_string();
    assert!(wrong.contains("unknown variant `curve`, expected one of `points`, `inverse_time`, `thermal`"), "{wrong}");
}

#[test]
fn exact_refusals_name_curve_and_row() {
    let refused =
        |fastest: &[[f64; 2]], slowest: &[[f64; 2]]| TripBand::points(fastest, slowest).unwrap_err().to_string();
    let good = [[1.4, 3600.0], [2.0, 80.0]];
    for (fastest, slowest, message) in [
        (&[][..], &good[..], "`trip_band.fastest` has no row; give rows of [multiple of the rated current, seconds]"),
        (
            &[[2.0, 20.0], [1.1, 10.0]],
            &good,
            "`trip_band.fastest` has multiple 1.1 in row 2 after 2; order the rows by rising multiples",
        ),
        (
            &[[1.1, 20.0], [2.0, 30.0]],
            &good,
            "`trip_band.fastest` has 30 s in row 2 after 20 s; a larger current may not take longer",
        ),
        (
            &[[1.1, 900.0]],
            &[[1.4, 3600.0], [2.0, -1.0]],
            "`trip_band.slowest` has [2, -1] in row 2; both numbers must be above zero",
        ),
        (
            &[[1.1, 900.0], [2.0, 100.0]],
            &good,
            "`trip_band`: at 2 times the rated current the slowest curve trips in 80 s and the fastest in 100 s; exchange the two curves or correct their rows",
        ),
        (
            &[[1.5, 900.0], [2.0, 20.0]],
            &good,
            "`trip_band`: at 1.4 times the rated current the slowest curve trips in 3600 s and the fastest never; exchange the two curves or correct their rows",
        ),
    ] {
        assert_eq!(refused(fastest, slowest), message);
    }
    let curve = InverseTimeCurve::IecVeryInverse;
    assert_eq!(
        TripBand::inverse_time(curve, 0.0, 0.0).unwrap_err().to_string(),
        "`trip_band.time_multiplier` is 0, but must be above 0"
    );
    assert_eq!(
        TripBand::inverse_time(curve, 1.0, "100 %").unwrap_err().to_string(),
        "`trip_band.tolerance` is 1, but must be at least 0 and below 1"
    );
}
