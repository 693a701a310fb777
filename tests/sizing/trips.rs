//! A breaker's integrals over a known current, and the runs that are shared.

use stallpoint::circuit::{Signal, TransientOptions};
use stallpoint::drive::{Direction, StartOptions};
use stallpoint::parts::{Breaker, MagneticTrip, Reset, TripBand};
use stallpoint::studies::sizing::{Evidence, SizingOptions};
use stallpoint::studies::surge::surge_study;

use super::support::with;

/// By hand: 12 s at twice the rated current, 20 s to trip; then 30 s of cooling with 60 s; then again.
#[test]
fn exact_heating_and_cooling() {
    let band = TripBand::points([[1.1, 900.0], [2.0, 20.0]], [[1.4, 3600.0], [2.0, 80.0]]).unwrap();
    let breaker = Breaker::new("50 A", band).unwrap();
    let (time, current) = ([0.0, 12.0, 12.0, 42.0, 42.0, 54.0], [100.0, 100.0, 0.0, 0.0, 100.0, 100.0]);
    let fast = breaker.accumulate(0.0, &time, &current, 0.0);
    let cooled = 0.6 * (-0.5_f64).exp();
    assert!((fast.largest - (cooled + 0.6)).abs() < 1e-12 && fast.last == fast.largest);
    let slow = breaker.accumulate(1.0, &time, &current, 0.0);
    assert!((slow.largest - (0.25 * cooled + 0.15)).abs() < 1e-12);
}

/// Cold curve of IEC 60255-149: a steady current takes a thermal replica to 1 in its trip time.
#[test]
fn exact_a_thermal_replica_and_a_magnetic_element() {
    let mut breaker = Breaker::new("50 A", TripBand::thermal(1.2, "90 s", 0.0).unwrap()).unwrap();
    let time = breaker.trip_time(0.0, 120.0).unwrap();
    let found = breaker.accumulate(0.0, &[0.0, time], &[120.0, 120.0], 0.0);
    assert!((found.last - 1.0).abs() < 1e-12);
    breaker.reset = Reset::Manual;
    breaker.magnetic = Some(MagneticTrip::new(5.0, 10.0));
    let spike = |length: f64| breaker.accumulate(0.0, &[0.0, length], &[300.0, 300.0], 0.0).largest;
    assert!(spike(9e-3) >= 1.0 && spike(7e-3) < 0.1); // 8 ms operating time
}

/// Against the integrals that the circuit itself carries, for each kind of band.
#[test]
fn exact_after_the_run_as_within_it() {
    let bands = [
        with(&[]).breaker.unwrap().trip_band,
        TripBand::inverse_time(stallpoint::tables::inverse_time::InverseTimeCurve::IecVeryInverse, 0.5, 0.1).unwrap(),
        TripBand::thermal(1.1, "30 s", 0.1).unwrap(),
    ];
    for band in bands {
        let mut drive = with(&[]);
        drive.breaker.as_mut().unwrap().trip_band = band.clone();
        let options = StartOptions { hold: 3.0, transient: TransientOptions::rtol(1e-6) };
        let start = drive.start(Direction::Forward, &options).unwrap();
        let mut exact = SizingOptions::default();
        exact.surge.transient.rtol = 1e-6;
        let evidence = Evidence::gather(&drive, &exact).unwrap();
        let wave = &evidence.facts.directions[0].start_current;
        for (edge, name) in [(0.0, "trip_fraction_fastest"), (1.0, "trip_fraction_slowest")] {
            let within = start.extremes(&Signal::State("breaker".into(), name.into())).unwrap().max;
            let after = drive.breaker.as_ref().unwrap().accumulate(edge, &wave.time, &wave.value, 0.0).largest;
            assert!((after / within - 1.0).abs() < 2e-3, "{band:?} {name}: {after} against {within}");
        }
    }
}

/// Held closed or not, a breaker that does not open leaves every figure as the surge study has it.
#[test]
fn exact_evidence_is_the_surge_studys() {
    let drive = with(&[]);
    let (study, evidence) =
        (surge_study(&drive).unwrap(), Evidence::gather(&drive, &SizingOptions::default()).unwrap());
    for (own, known) in evidence.facts.directions.iter().zip(&study.facts.directions) {
        let pairs = [
            (own.breaker_peak.value, known.breaker_peak.value),
            (own.locked_peak.value, known.locked_peak.value),
            (own.supply.sag.value, known.supply.sag.value),
            (own.breaker_at_end, known.breaker_at_end),
            (own.holding.as_ref().unwrap().value, known.holding.as_ref().unwrap().value),
            (own.time_to_speed.unwrap(), known.time_to_speed.unwrap()),
        ];
        for (own, known) in pairs {
            assert!((own / known - 1.0).abs() < 1e-3, "{own} against {known}");
        }
    }
}
