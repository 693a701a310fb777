//! The cases of a sweep, made in parallel.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use rayon::prelude::*;

use super::grid::Grid;
use super::measure::Measure;
use crate::circuit::{Ending, Flow, Progress, Watcher};
use crate::drive::{Direction, StartOptions};
use crate::error::Error;

/// How often the watcher is called.
const INTERVAL: Duration = Duration::from_millis(20);

/// The figures of a case, one for each measure, or why there are none.
pub(super) type Figures = Result<Vec<f64>, Failure>;

/// Why a case has no figures.
pub(super) enum Failure {
    /// The watcher stopped the sweep before it was done.
    Cancelled,
    /// The reason.
    Because(String),
}

impl From<Error> for Failure {
    fn from(error: Error) -> Self {
        Self::Because(error.to_string())
    }
}

/// What every case needs.
pub(super) struct Cases<'a> {
    pub grid: Grid<'a>,
    pub measures: &'a [Measure],
    pub direction: Direction,
    pub start: StartOptions,
}

impl Cases<'_> {
    /// Makes all cases, in the grid's order, calling the watcher from this thread only.
    pub fn make(&self, threads: Option<usize>, watcher: Watcher) -> Result<Vec<Figures>, Error> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build().map_err(|error| {
            let given = threads.map_or_else(|| "left out".into(), |threads| threads.to_string());
            Error::option("threads", &given, &format!("a number of threads that the system grants ({error})"))
        })?;
        let total = self.grid.len();
        let (done, stop) = (AtomicUsize::new(0), AtomicBool::new(false));
        let mut tell = || {
            let cases = done.load(Ordering::Relaxed);
            let progress = Progress { time: cases as f64, until: total as f64, steps: cases as u64 };
            if watcher(progress) == Flow::Stop {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let mut figures = Vec::new();
        let (alive, ended) = channel::<()>();
        tell();
        pool.in_place_scope(|scope| {
            let (figures, done, stop) = (&mut figures, &done, &stop);
            scope.spawn(move |_| {
                // One case at a time: they differ much in how long they take.
                let cases = (0..total).into_par_iter().with_max_len(1);
                *figures = cases
                    .map(|case| {
                        let figures = self.case(case, stop);
                        done.fetch_add(usize::from(!matches!(figures, Err(Failure::Cancelled))), Ordering::Relaxed);
                        figures
                    })
                    .collect();
                drop(alive); // here and when a measure panics: ends the wait below
            });
            while ended.recv_timeout(INTERVAL) == Err(RecvTimeoutError::Timeout) {
                tell();
            }
        });
        tell();
        Ok(figures)
    }

    fn case(&self, case: usize, stop: &AtomicBool) -> Figures {
        let stopped = || stop.load(Ordering::Relaxed);
        if stopped() {
            return Err(Failure::Cancelled);
        }
        let drive = self.grid.drive(case)?;
        let mut watcher = |_| if stopped() { Flow::Stop } else { Flow::Continue };
        let start = drive.start_watched(self.direction, &self.start, &mut watcher)?;
        match start.run.ending {
            Ending::Finished | Ending::StoppedAtEvent => {
                Ok(self.measures.iter().map(|measure| measure.read(&start)).collect())
            }
            Ending::Cancelled => Err(Failure::Cancelled),
            Ending::StepLimit => {
                let (limit, reached) = (self.start.transient.max_steps, start.run.time().last().copied());
                Err(Failure::Because(format!(
                    "the run reached `max_steps` ({limit}) at {} s; allow more steps or hold for a shorter time",
                    reached.unwrap_or_default()
                )))
            }
        }
    }
}
