//! Miniature breakers, simulated at the multiples of their standard.

use crate::support::{number, opens_in, reference, through};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{Breaker, CurrentSource};
use stallpoint::quantity::Fraction;
use stallpoint::tables::Status;
use stallpoint::tables::trip_gates::{MiniatureType, iec_60898};

fn at(kind: MiniatureType, rated: f64, position: f64) -> Breaker {
    Breaker { band_position: Fraction::from_si(position), ..Breaker::miniature(kind, rated).unwrap() }
}

/// A rated current to which a row's range applies.
fn rated(range: &str) -> f64 {
    match range {
        "<=63" => 63.0,
        "<=32" => 32.0,
        ">32" => 63.0,
        "all" => 40.0,
        other => panic!("{other}"),
    }
}

#[test]
fn val_verified_gates_hold_for_the_fastest_and_the_slowest() {
    let mut checked = 0;
    for row in reference("miniature_breaker_gates.csv", 14) {
        if row["status"] != "verified" {
            continue; // never a limit
        }
        let multiple = number(&row, "multiple").unwrap();
        for kind in MiniatureType::ALL.into_iter().filter(|kind| row["type"].contains(kind.letter())) {
            let current = multiple * rated(&row["In_range"]);
            let limits = (number(&row, "t_no_trip_s"), number(&row, "t_trip_s"));
            let own = iec_60898(kind, rated(&row["In_range"])).into_iter();
            let own: Vec<_> =
                own.filter(|g| g.multiple == multiple && (g.holds_for, g.trips_within) == limits).collect();
            assert!(own.len() == 1 && own[0].status == Status::Read, "{row:?} {own:?}");
            let device = |position| at(kind, rated(&row["In_range"]), position);
            if let Some(holds) = number(&row, "t_no_trip_s") {
                let opened = opens_in(current, device(0.0), holds);
                assert_eq!(opened, None, "{row:?} {kind:?}");
                checked += 1;
            }
            if let Some(trips) = number(&row, "t_trip_s") {
                let opened = opens_in(current, device(1.0), 2.0 * trips).unwrap_or(f64::INFINITY);
                assert!(opened <= trips, "{row:?} {kind:?}: {opened}");
                checked += 1;
            }
        }
    }
    assert_eq!(checked, 3 + 3 + 2 * 6 + 3 + 3);
}

#[test]
fn val_gate_b_follows_on_gate_a() {
    // IEC 60898-1 Table 7, tests a and b: 1.13 times for 3600 s, then raised within 5 s to 1.45 times, opens within 3600 s.
    let times = [0.0, 3600.0, 3605.0];
    let source = CurrentSource::table(times, [1.13 * 32.0, 1.13 * 32.0, 1.45 * 32.0]).unwrap();
    let options = TransientOptions { stop_at_event_of: Some("device".into()), ..TransientOptions::rtol(1e-6) };
    for position in [0.0, 0.5, 1.0] {
        let run = through(source.clone(), at(MiniatureType::B, 32.0, position)).transient(8000.0, &options).unwrap();
        let opened = run.events[0].time;
        assert!(opened > 3600.0 && opened <= 3605.0 + 3600.0, "{position}: {opened}");
    }
}

#[test]
fn exact_own_gates_are_met_at_every_rated_current() {
    for kind in MiniatureType::ALL {
        for rated in [6.0, 16.0, 32.0, 40.0, 63.0, 80.0, 125.0] {
            for check in Breaker::miniature(kind, rated).unwrap().meets(&iec_60898(kind, rated)) {
                assert!(check.holds, "{check}");
            }
        }
    }
    // The magnetic elements of two types do not overlap: each fails the other's gates.
    let breaker = Breaker::miniature(MiniatureType::B, 16.0).unwrap();
    let failed: Vec<_> = breaker.meets(&iec_60898(MiniatureType::C, 16.0)).into_iter().filter(|c| !c.holds).collect();
    assert_eq!(failed.len(), 1);
    assert_eq!(
        failed[0].to_string(),
        "IEC 60898-1: at 5 times the rated current the fastest device trips in 0.0080 s; it must hold for 0.1 s"
    );
}

#[test]
fn exact_ratings_beyond_the_standard_are_refused() {
    let error = Breaker::miniature(MiniatureType::B, "160 A").unwrap_err().to_string();
    assert_eq!(error, "`rated_current` is 160 A, but must be above 0 A and at most 125 A, where IEC 60898-1 ends");
}
