//! Progress and cancelling.

use std::thread::current;

use stallpoint::circuit::{Ending, Flow, TransientOptions};
use stallpoint::studies::sweep::{Axis, SweepOptions, sweep};

use super::support::{bits, boat_lift, held, measures, swept};

fn lengths(count: usize) -> Vec<f64> {
    (0..count).map(|step| 2.0 + step as f64 / 64.0).collect()
}

#[test]
fn prop_progress_counts_the_cases_from_the_calling_thread() {
    let axis = Axis::new("supply_cable.length", lengths(12));
    let mut seen = Vec::new();
    let caller = current().id();
    let watcher = &mut |progress: stallpoint::circuit::Progress| {
        assert_eq!(current().id(), caller);
        seen.push((progress.time, progress.until, progress.steps));
        Flow::Continue
    };
    sweep(&boat_lift(), &[axis], &measures(&["stalled"]), &held(0.3), watcher).unwrap();
    assert_eq!((seen.first(), seen.last()), (Some(&(0.0, 12.0, 0)), Some(&(12.0, 12.0, 12))));
    assert!(seen.windows(2).all(|pair| pair[0].0 <= pair[1].0), "{seen:?}");
}

#[test]
fn prop_cancelling_keeps_the_rows_done() {
    let lengths = lengths(40);
    let names = measures(&["peak_current", "time_to_speed"]);
    let stop_after_two =
        &mut |progress: stallpoint::circuit::Progress| if progress.time >= 2.0 { Flow::Stop } else { Flow::Continue };
    let axis = Axis::new("supply_cable.length", lengths.clone());
    // Small steps, so that a case takes longer than the watcher's interval.
    let transient = TransientOptions { max_step: 1e-4, energy: false, ..TransientOptions::default() };
    let options = SweepOptions { threads: Some(2), transient, ..held(1.0) };
    let table = sweep(&boat_lift(), &[axis], &names, &options, stop_after_two).unwrap();

    assert_eq!((table.ending, table.len()), (Ending::Cancelled, 40));
    let done: Vec<usize> = (0..40).filter(|&row| table.failures[row].is_none()).collect();
    assert!((2..40).contains(&done.len()), "{} rows done", done.len());
    for row in 0..40 {
        let value = table.values("peak_current").unwrap()[row];
        match table.failures[row].as_deref() {
            None => assert!(value > 0.0),
            Some(reason) => assert!(reason == "cancelled" && value.is_nan(), "{reason} {value}"),
        }
    }
    let again = Axis::new("supply_cable.length", done.iter().map(|&row| lengths[row]).collect::<Vec<_>>());
    let whole = swept(&[again], &["peak_current", "time_to_speed"], &options);
    for name in ["peak_current", "time_to_speed"] {
        let kept: Vec<f64> = done.iter().map(|&row| table.values(name).unwrap()[row]).collect();
        assert_eq!(bits(&kept), bits(whole.values(name).unwrap()), "{name}");
    }
}

#[test]
fn prop_stopped_at_once_no_case_is_made() {
    let axis = Axis::new("supply_cable.length", lengths(3));
    let table = sweep(&boat_lift(), &[axis], &measures(&["stalled"]), &held(0.3), &mut |_| Flow::Stop).unwrap();
    assert_eq!(table.ending, Ending::Cancelled);
    assert_eq!(table.failures, vec![Some("cancelled".to_string()); 3]);
}

/// The watcher asks to stop when nothing is left to stop.
#[test]
fn prop_a_stop_after_the_last_case_is_no_cancelling() {
    let axis = Axis::new("supply_cable.length", lengths(2));
    let at_end = &mut |progress: stallpoint::circuit::Progress| {
        if progress.time >= progress.until { Flow::Stop } else { Flow::Continue }
    };
    let table = sweep(&boat_lift(), &[axis], &measures(&["stalled"]), &held(0.05), at_end).unwrap();
    assert_eq!((table.ending, table.failures), (Ending::Finished, vec![None, None]));
}
