//! Work spread over threads, whose results do not depend on how.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use rayon::prelude::*;

use crate::circuit::{Flow, Progress, Watcher};
use crate::error::Error;

/// How often the watcher is called.
const INTERVAL: Duration = Duration::from_millis(20);

/// Does `work` for every number below `total`, results in their order. The watcher is called from this thread; its progress
/// goes from `from` to `to` of 1. A flag tells the work that it was stopped.
///
/// # Errors
/// Threads that the system does not grant; [`Error::Cancelled`] when the watcher stops it.
pub(super) fn each<T: Send>(
    total: usize,
    threads: Option<usize>,
    (from, to): (f64, f64),
    watcher: Watcher,
    work: impl Fn(usize, &AtomicBool) -> T + Sync,
) -> Result<Vec<T>, Error> {
    if threads == Some(0) {
        return Err(Error::option("threads", "0", "at least 1, or left out for as many as the machine has"));
    }
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build().map_err(|error| {
        let given = threads.map_or_else(|| "left out".into(), |threads| threads.to_string());
        Error::option("threads", &given, &format!("a number of threads that the system grants ({error})"))
    })?;
    let (done, stop) = (AtomicUsize::new(0), AtomicBool::new(false));
    let mut tell = || {
        let count = done.load(Ordering::Relaxed);
        let share = count as f64 / total.max(1) as f64;
        let progress = Progress { time: from + (to - from) * share, until: 1.0, steps: count as u64 };
        if watcher(progress) == Flow::Stop {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let mut results = Vec::new();
    let (alive, ended) = channel::<()>();
    tell();
    pool.in_place_scope(|scope| {
        let (results, done, stop, work) = (&mut results, &done, &stop, &work);
        scope.spawn(move |_| {
            // One at a time: they differ much in how long they take.
            let numbers = (0..total).into_par_iter().with_max_len(1);
            *results = numbers
                .map(|number| {
                    // Past a stop there is nothing to keep.
                    let result = (!stop.load(Ordering::Relaxed)).then(|| work(number, stop));
                    done.fetch_add(1, Ordering::Relaxed);
                    result
                })
                .collect();
            drop(alive); // here and when the work panics: ends the wait below
        });
        while ended.recv_timeout(INTERVAL) == Err(RecvTimeoutError::Timeout) {
            tell();
        }
    });
    tell();
    if stop.load(Ordering::Relaxed) {
        return Err(Error::Cancelled);
    }
    Ok(results.into_iter().flatten().collect())
}

/// A watcher that only looks at the flag.
pub(super) fn stopped(stop: &AtomicBool) -> impl FnMut(Progress) -> Flow {
    move |_| if stop.load(Ordering::Relaxed) { Flow::Stop } else { Flow::Continue }
}
