//! Breaker: how it comes back.

use crate::breaker::band;
use crate::support::{SHARE, assert_close, assert_energy_adds_up, breaker_on};
use stallpoint::circuit::TransientOptions;
use stallpoint::parts::{Breaker, CurrentSource, Reset};

#[test]
fn exact_automatic_reset_cycles_with_its_own_period() {
    let breaker = Breaker { reset: Reset::Automatic, ..Breaker::new("50 A", band()).unwrap() };
    let source = CurrentSource::constant(125.0 / SHARE).unwrap();
    let run = breaker_on(source, breaker).transient(600.0, &TransientOptions::rtol(1e-8)).unwrap();
    let heating = band().time(0.5, 2.5).unwrap();
    let mut expected = heating;
    let cycles: Vec<_> = run.events.iter().filter(|event| ["trips", "recloses"].contains(&&*event.what)).collect();
    assert!(cycles.len() >= 8, "{:?}", run.events);
    for (k, event) in cycles.iter().enumerate() {
        assert_eq!(event.what, if k % 2 == 0 { "trips" } else { "recloses" });
        // Some 240 steps of rtol 1e-8 in each decay with 60 s: 1.5e-4 s of 90 s; every cycle adds as much.
        assert_close(event.time, expected, 2e-6, &format!("cycle {k}"));
        // Cools from 1 to 0.3, then heats the other 0.7 again.
        expected += if k % 2 == 0 { 60.0 * f64::ln(1.0 / 0.3) } else { 0.7 * heating };
    }
    assert_energy_adds_up(&run, 1e-6);
}

#[test]
fn exact_manual_reset_stays_open() {
    let source = CurrentSource::constant(125.0 / SHARE).unwrap();
    let breaker = Breaker::new("50 A", band()).unwrap();
    let run = breaker_on(source, breaker).transient(600.0, &TransientOptions::rtol(1e-6)).unwrap();
    assert_eq!(run.events.iter().filter(|event| event.what == "trips").count(), 1);
    assert!(!run.events.iter().any(|event| event.what == "recloses"));
    let heating = band().time(0.5, 2.5).unwrap();
    let fraction = *run.state("breaker", "trip_fraction").unwrap().last().unwrap();
    let decayed = f64::exp(-(600.0 - heating) / 60.0);
    assert!((fraction - decayed).abs() < 1e-6, "{fraction} against {decayed}");
}
