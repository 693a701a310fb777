//! The ambient rescales the rated current.

use crate::support::{assert_close, band, breaker_at, opens_in};
use stallpoint::circuit::Circuit;
use stallpoint::parts::{Breaker, Derating, LinearDerating};
use stallpoint::quantity::Temperature;

fn warm(derating: Derating, ambient_c: f64) -> Breaker {
    Breaker { derating: Some(derating), ambient_c: Some(Temperature::from_si(ambient_c)), ..breaker_at(0.5) }
}

fn line(per_kelvin: f64) -> Derating {
    Derating::Linear(LinearDerating { reference_c: Temperature::from_si(40.0), per_kelvin })
}

#[test]
fn exact_a_hot_breaker_trips_as_one_of_a_lower_rating() {
    // 60 °C: 50 A · (1 - 0.004 · 20) = 46 A; the table says 45 A there and 47.5 A at 50 °C.
    let table = || Derating::Table(vec![[0.0, 1.1], [40.0, 1.0], [60.0, 0.9]]);
    for (breaker, rated) in [
        (warm(line(-0.004), 60.0), 46.0),
        (warm(line(-0.004), 15.0), 55.0),
        (warm(table(), 60.0), 45.0),
        (warm(table(), 50.0), 47.5),
        (warm(table(), 0.0), 55.0),
        (breaker_at(0.5), 50.0),
    ] {
        assert_close(breaker.rated_at_ambient(), rated, 1e-14, "rated");
        assert_close(breaker.trips_from(1.0), 1.4 * rated, 1e-14, "pick-up");
        let time = band().time(0.5, 140.0 / rated).unwrap();
        assert_close(breaker.trip_time(0.5, 140.0).unwrap(), time, 1e-14, "trip time");
        assert_close(opens_in(140.0, breaker, 1e4).unwrap(), time, 1e-6, "trips");
    }
}

#[test]
fn exact_refusals_name_the_argument() {
    let refused = |breaker: Breaker| {
        let error = Circuit::new().add("main", breaker, [("line", "p"), ("load", "ground")]).unwrap_err().to_string();
        error.strip_prefix("part \"main\" (breaker): ").unwrap().to_owned()
    };
    let rows = |rows: &[[f64; 2]], ambient| refused(warm(Derating::Table(rows.to_vec()), ambient));
    assert_eq!(
        rows(&[[0.0, 1.1], [40.0, 1.0]], 60.0),
        "`ambient_c` is 60 degC, but must be where `derating` has a factor above zero"
    );
    assert_eq!(
        refused(warm(line(-0.05), 60.0)),
        "`ambient_c` is 60 degC, but must be where `derating` has a factor above zero"
    );
    for bad in [&[][..], &[[40.0, 1.0]], &[[40.0, 1.0], [0.0, 1.1]], &[[0.0, 1.0], [40.0, f64::NAN]]] {
        assert_eq!(
            rows(bad, 40.0),
            "`derating.table` is not a table over temperature; give two or more rows of [ambient in degC, factor] with \
             rising temperatures"
        );
    }
    assert_eq!(
        refused(Breaker { ambient_c: Some(Temperature::from_si(60.0)), ..breaker_at(0.5) }),
        "`ambient_c` has no effect without `derating`; give both, or leave out both"
    );
    assert_eq!(
        refused(Breaker { derating: Some(line(-0.004)), ..breaker_at(0.5) }),
        "`derating` has no effect without `ambient_c`; give both, or leave out both"
    );
}

#[test]
fn exact_reads_back_from_a_file() {
    let text = "rated_current = '50 A'\ntrip_band.inverse_time = { curve = 'iec_very_inverse' }\nambient_c = '140 degF'\n\
                derating.table = [[0, 1.1], [60, 0.9]]\nmagnetic = { fastest = 5.0, slowest = 10.0 }";
    let breaker: Breaker = toml::from_str(text).unwrap();
    assert_close(breaker.rated_at_ambient(), 45.0, 1e-12, "rated");
    assert_eq!(toml::from_str::<Breaker>(&toml::to_string(&breaker).unwrap()).unwrap(), breaker);
}
