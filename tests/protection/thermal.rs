//! The thermal replica: cold curve, hot curve, cooling.

use crate::support::{assert_close, last, opens_in, through, words};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{Breaker, CurrentSource, Reset, TripBand};
use stallpoint::quantity::Fraction;

const K: f64 = 1.2;

fn replica(position: f64) -> Breaker {
    let band = TripBand::thermal(K, "90 s", "20 %").unwrap();
    Breaker { band_position: Fraction::from_si(position), ..Breaker::new("50 A", band).unwrap() }
}

/// Hot curve of IEC 60255-149: from the heat of a long preload `m0`.
fn hot(tau: f64, m0: f64, m: f64) -> f64 {
    tau * f64::ln((m * m - m0 * m0) / (m * m - K * K))
}

#[test]
fn exact_cold_curve() {
    for (position, tau) in [(0.0, 72.0), (0.5, 90.0 * f64::sqrt(0.8 * 1.2)), (1.0, 108.0)] {
        for m in [1.3, 2.0, 6.0] {
            let time = hot(tau, 0.0, m);
            assert_close(replica(position).trip_time(position, 50.0 * m).unwrap(), time, 1e-12, "time");
            assert_close(opens_in(50.0 * m, replica(position), 1e4).unwrap(), time, 1e-5, "trips");
        }
        assert_eq!(opens_in(50.0 * K * 0.999, replica(position), 1e5), None);
        assert_eq!(replica(position).trip_time(position, 50.0 * K), None);
    }
}

#[test]
fn exact_hot_curve_after_a_long_preload() {
    let tau = 90.0 * f64::sqrt(0.8 * 1.2);
    for preload in [0.5, 1.0] {
        let source =
            CurrentSource::table([0.0, 3600.0, 3600.0 + 1e-6], [50.0 * preload, 50.0 * preload, 100.0]).unwrap();
        let run = through(source, replica(0.5)).transient(3700.0, &TransientOptions::rtol(1e-8)).unwrap();
        assert_eq!(words(&run, "device")[0], "trips");
        assert_close(run.events[0].time - 3600.0, hot(tau, preload, 2.0), 1e-5, "hot curve");
        // At 3600 s both edges have settled at (M/k)².
        let at = run.sample(&[3600.0]).unwrap();
        for state in ["trip_fraction_fastest", "trip_fraction_slowest"] {
            assert_close(at.state("device", state).unwrap()[0], (preload / K).powi(2), 1e-6, state);
        }
    }
}

#[test]
fn exact_opened_it_cools_with_its_other_time_constant() {
    let breaker = Breaker { reset: Reset::Manual, ..replica(0.0) };
    let source = CurrentSource::table([0.0, 10.0, 10.0 + 1e-6], [300.0, 300.0, 0.0]).unwrap();
    let run = through(source, breaker).transient(200.0, &TransientOptions::rtol(1e-8)).unwrap();
    // Trips after 2.9 s; the arc that the source keeps up goes on heating it, with the 60 s of an open breaker.
    let trips = hot(72.0, 0.0, 6.0);
    let settled = (6.0 / K).powi(2);
    let heated = settled + (1.0 - settled) * f64::exp(-(10.0 - trips) / 60.0);
    assert_close(last(&run, "trip_fraction"), heated * f64::exp(-190.0 / 60.0), 1e-4, "cooled");
}

#[test]
fn exact_refusals_name_the_argument() {
    assert_eq!(
        TripBand::thermal(0.0, "90 s", 0.0).unwrap_err().to_string(),
        "`trip_band.pick_up` is 0, but must be above 0"
    );
    assert!(TripBand::thermal(1.2, "0 s", 0.0).unwrap_err().to_string().contains("trip_band.time_constant"));
    assert!(TripBand::thermal(1.2, "9 s", 1.0).unwrap_err().to_string().contains("trip_band.tolerance"));
}
