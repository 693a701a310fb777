//! A finished transient.

use std::ops::Deref;

use stallpoint_solve::Counters;
use stallpoint_solve::dense::{MIDDLE, Step, extremum, interpolate};

use super::energy::EnergyAccount;
use super::event::Event;
use super::state::State;
use super::trace::{Signal, Trace};
use crate::error::Error;

/// How a run ended. Whatever it is, what was computed up to then is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// At the time asked for.
    Finished,
    /// After the event it was to stop at.
    StoppedAtEvent,
    /// By its watcher.
    Cancelled,
    /// At the limit of steps.
    StepLimit,
}

/// The largest and the smallest value of a signal, and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Largest value.
    pub max: f64,
    /// When it was largest, s.
    pub max_at: f64,
    /// Smallest value.
    pub min: f64,
    /// When it was smallest, s.
    pub min_at: f64,
}

/// A transient: values at the accepted steps (by [`Deref`] to [`Trace`]), dense output between them, events, energy.
#[derive(Clone)]
pub struct Run {
    pub(crate) trace: Trace,
    /// For each row, which inner point leads to it; none for the first row and rows after events.
    pub(crate) mid_of: Vec<Option<u32>>,
    /// Unknowns at the inner points, one after the other.
    pub(crate) mids: Vec<f64>,
    /// What happened.
    pub events: Vec<Event>,
    /// Where the energy went; empty when it was not to be kept.
    pub energy: EnergyAccount,
    /// How it ended.
    pub ending: Ending,
    /// What it cost.
    pub counters: Counters,
}

impl std::fmt::Debug for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.debug_struct("Run")
            .field("trace", &self.trace)
            .field("events", &self.events.len())
            .field("ending", &self.ending)
            .field("counters", &self.counters)
            .finish_non_exhaustive()
    }
}

impl Deref for Run {
    type Target = Trace;

    fn deref(&self) -> &Trace {
        &self.trace
    }
}

impl Run {
    pub(crate) fn new(trace: Trace) -> Self {
        Self {
            trace,
            mid_of: Vec::new(),
            mids: Vec::new(),
            events: Vec::new(),
            energy: EnergyAccount::default(),
            ending: Ending::Finished,
            counters: Counters::default(),
        }
    }

    pub(crate) fn push(&mut self, t: f64, x: &[f64], mid: Option<&[f64]>) {
        self.trace.push(t, x);
        self.mid_of.push(mid.map(|mid| {
            self.mids.extend_from_slice(mid);
            (self.mids.len() / mid.len().max(1)) as u32 - 1
        }));
    }

    /// The step that ends at `row`, when one does.
    fn step(&self, row: usize) -> Option<Step<'_>> {
        let n = self.layout.size();
        let mid = self.mid_of[row]? as usize;
        Some(Step {
            t0: self.times[row - 1],
            t1: self.times[row],
            x0: self.row(row - 1),
            mid: &self.mids[mid * n..(mid + 1) * n],
            x1: self.row(row),
        })
    }

    /// Values on a grid of times within the run. At the time of an event it is the later value.
    ///
    /// Each step is the parabola through its two ends and the method's inner point; its error is below ten times the
    /// step tolerance.
    ///
    /// # Errors
    /// A time outside the run, or NaN.
    pub fn sample(&self, times: &[f64]) -> Result<Trace, Error> {
        let (Some(&first), Some(&last)) = (self.times.first(), self.times.last()) else {
            return Err(Error::option("times", "a grid", "empty: this run has no row"));
        };
        let mut out = Trace::new(self.layout.clone());
        out.memories = self.memories.clone();
        let mut x = vec![0.0; self.layout.size()];
        for &t in times {
            if !(t >= first && t <= last) {
                return Err(Error::option(
                    "times",
                    &format!("{t} s"),
                    &format!("within the run, {first} s to {last} s"),
                ));
            }
            let row = self.times.partition_point(|&own| own <= t) - 1;
            match (t > self.times[row]).then(|| self.step(row + 1)).flatten() {
                Some(step) => step.sample((t - step.t0) / (step.t1 - step.t0), &mut x),
                None => x.copy_from_slice(self.row(row)),
            }
            out.times.push(t);
            out.x.extend_from_slice(&x);
            out.memory.push(self.memory[row]);
        }
        Ok(out)
    }

    /// Largest and smallest value of a signal over the dense output of the run.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn extremes(&self, signal: &Signal) -> Result<Extremes, Error> {
        self.extremes_between(signal, f64::NEG_INFINITY, f64::INFINITY)
    }

    /// Largest and smallest value over the steps that lie between two times. NaN where no row does.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn extremes_between(&self, signal: &Signal, from: f64, to: f64) -> Result<Extremes, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.layout.scratch();
        let mut found = Extremes { max: f64::NAN, max_at: f64::NAN, min: f64::NAN, min_at: f64::NAN };
        let mut note = |t: f64, value: f64| {
            if value > found.max || found.max.is_nan() {
                (found.max, found.max_at) = (value, t);
            }
            if value < found.min || found.min.is_nan() {
                (found.min, found.min_at) = (value, t);
            }
        };
        let mut inner = vec![0.0; self.layout.size()];
        for row in 0..self.len() {
            let (t, value) = (self.times[row], self.read(reader, self.times[row], self.row(row), row, &mut scratch));
            if t < from || t > to {
                continue;
            }
            note(t, value);
            let Some(step) = self.step(row).filter(|step| step.t0 >= from) else { continue };
            // The discrete states of a step are those of the row it starts from.
            let before = self.read(reader, step.t0, step.x0, row - 1, &mut scratch);
            let mid = self.read(reader, step.time(MIDDLE), step.mid, row - 1, &mut scratch);
            if let Some(theta) = extremum([before, mid, value]) {
                step.sample(theta, &mut inner);
                let exact = self.read(reader, step.time(theta), &inner, row - 1, &mut scratch);
                note(step.time(theta), exact);
            }
        }
        Ok(found)
    }

    /// Integral of `weight(value)` of a signal from the start of the run to each row, by the method's third-order rule.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn accumulated(&self, signal: &Signal, weight: impl Fn(f64) -> f64) -> Result<Vec<f64>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.layout.scratch();
        let mut sum = 0.0;
        let mut sums = Vec::with_capacity(self.len());
        for row in 0..self.len() {
            if let Some(step) = self.step(row) {
                let points = [(step.t0, step.x0), (step.time(MIDDLE), step.mid), (step.t1, step.x1)];
                for (share, (t, x)) in super::energy::RULE.iter().zip(points) {
                    let value = self.read(reader, t, x, row - 1, &mut scratch);
                    sum += (step.t1 - step.t0) * share * weight(value);
                }
            }
            sums.push(sum);
        }
        Ok(sums)
    }

    /// First time from `from` on at which the signal crosses `level` in the given direction, on the dense output or by a
    /// jump at an event.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn crossing(&self, signal: &Signal, level: f64, rising: bool, from: f64) -> Result<Option<f64>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.layout.scratch();
        let sign = if rising { 1.0 } else { -1.0 };
        let mut read = |t: f64, x: &[f64], row: usize| sign * (self.read(reader, t, x, row, &mut scratch) - level);
        for row in 1..self.len() {
            if self.times[row] < from {
                continue;
            }
            let Some(step) = self.step(row) else {
                let (t, before) = (self.times[row], read(self.times[row - 1], self.row(row - 1), row - 1));
                if before <= 0.0 && read(t, self.row(row), row) > 0.0 {
                    return Ok(Some(t));
                }
                continue;
            };
            let mut at = |t: f64, x: &[f64]| read(t, x, row - 1);
            let points = [at(step.t0, step.x0), at(step.time(MIDDLE), step.mid), at(step.t1, step.x1)];
            let first = ((from - step.t0) / (step.t1 - step.t0)).max(0.0);
            // Between these points the parabola goes one way only.
            let turn = extremum(points).filter(|&theta| theta > first);
            let mut low = first;
            for mut high in turn.into_iter().chain([1.0]) {
                if interpolate(points, low) > 0.0 || interpolate(points, high) <= 0.0 {
                    low = high;
                    continue;
                }
                for _ in 0..60 {
                    let theta = 0.5 * (low + high);
                    if interpolate(points, theta) > 0.0 { high = theta } else { low = theta }
                }
                return Ok(Some(step.time(high)));
            }
        }
        Ok(None)
    }

    /// The state at the end of the run, to start another from.
    pub fn state_at_end(&self) -> Option<State> {
        (!self.is_empty()).then(|| State::of(&self.trace, self.len() - 1))
    }
}
