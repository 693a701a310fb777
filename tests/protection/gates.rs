//! Bands held against the limits of their standards.

use crate::support::{number, opens_in, reference};
use stallpoint::parts::{Breaker, Edge, TripBand};
use stallpoint::quantity::Fraction;
use stallpoint::tables::Status;
use stallpoint::tables::trip_gates::{Gate, ul_248_14, ul_489};

/// A rated current to which a row's range applies.
fn rated(range: &str) -> f64 {
    match range {
        "all" => 20.0,
        "<=50" => 50.0,
        "<=30" | "0-30" => 30.0,
        "35-60" => 60.0,
        other => panic!("{other}"),
    }
}

fn gates(standard: &str, rated: f64) -> Vec<Gate> {
    if standard == "UL489" { ul_489(rated) } else { ul_248_14(rated) }
}

/// A band whose slowest device opens in `factor` times the times of UL 489 up to 30 A and UL 248-14.
fn band(factor: f64) -> TripBand {
    // It begins below 1.35, for at its very pick-up rounding decides.
    let slowest = [[1.3, 6000.0], [1.35, 3600.0 * factor], [2.0, 120.0 * factor]];
    TripBand::points([[1.05, 1000.0], [1.35, 60.0], [2.0, 10.0]], slowest).unwrap()
}

#[test]
fn val_verified_limits_judge_a_band_as_the_simulation_does() {
    let mut limits = 0;
    for row in reference("other_protection.csv", 15) {
        if row["status"] != "verified" {
            continue; // never a limit
        }
        let (rated, multiple) = (rated(&row["rating_range_A"]), number(&row, "percent").unwrap() / 100.0);
        let gates: Vec<_> =
            gates(&row["standard"], rated).into_iter().filter(|gate| gate.multiple == multiple).collect();
        assert_eq!(gates.len(), 1, "{row:?}");
        assert_eq!(gates[0].status, Status::Read, "{row:?}");
        let device = |factor, position| Breaker {
            band_position: Fraction::from_si(position),
            ..Breaker::new(rated, band(factor)).unwrap()
        };
        if row["hold"] == "yes" {
            assert_eq!(gates[0].holds_for, Some(f64::INFINITY));
            assert_eq!(opens_in(multiple * rated, device(1.0, 0.0), 1e6), None, "{row:?}");
            assert!(band(1.0).meets(&gates)[0].holds);
            let low = TripBand::points([[0.95, 1000.0]], [[1.35, 3600.0]]).unwrap();
            let check = low.meets(&gates).remove(0);
            assert!(check.edge == Edge::Fastest && !check.holds, "{check}");
        }
        if let Some(limit) = number(&row, "t_max_s") {
            assert_eq!(gates[0].trips_within, Some(limit), "{row:?}");
            for (factor, holds) in [(0.99, true), (1.01, limit > 120.0 && multiple > 1.5)] {
                let check = band(factor).meets(&gates).remove(0);
                let opened = opens_in(multiple * rated, device(factor, 1.0), 1e5).unwrap();
                assert_eq!((check.holds, check.edge), (holds, Edge::Slowest), "{check}");
                assert_eq!(opened <= limit, holds, "{row:?}: {opened}");
                assert!((opened - check.trips_in.unwrap()).abs() < 1e-5 * opened, "{row:?}: {opened}");
                limits += 1;
            }
        }
    }
    assert_eq!(limits, 2 * 5);
}

#[test]
fn exact_limits_from_memory_say_so() {
    let memory: Vec<_> = ul_489(80.0).into_iter().filter(|gate| gate.status == Status::Memory).collect();
    assert_eq!(memory.iter().map(|gate| gate.multiple).collect::<Vec<_>>(), [1.35, 2.0]);
    assert!(ul_489(20.0).iter().all(|gate| gate.status == Status::Read));
}
