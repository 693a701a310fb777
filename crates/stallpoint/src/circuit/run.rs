//! A finished transient.

use std::ops::{Deref, Range};

use stallpoint_solve::Counters;
use stallpoint_solve::dense::{LOOKS, Step, turns};

use super::energy::{EnergyAccount, GAUSS};
use super::event::Event;
use super::local::{LocalEquations, REFERENCE};
use super::state::State;
use super::trace::{Reader, Signal, Trace};
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
    /// For each row, where the bend of the step that ends there lies in `bends`; empty for the first row and rows after
    /// events.
    pub(crate) bend_of: Vec<Range<usize>>,
    /// Coefficients of the steps' dense output, one step after the other.
    pub(crate) bends: Vec<f64>,
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
            bend_of: Vec::new(),
            bends: Vec::new(),
            events: Vec::new(),
            energy: EnergyAccount::default(),
            ending: Ending::Finished,
            counters: Counters::default(),
        }
    }

    pub(crate) fn push(&mut self, t: f64, x: &[f64], bend: Option<&[f64]>) {
        self.trace.push(t, x);
        let from = self.bends.len();
        self.bends.extend_from_slice(bend.unwrap_or_default());
        self.bend_of.push(from..self.bends.len());
    }

    /// The step that ends at `row`, when one does.
    fn step(&self, row: usize) -> Option<Step<'_>> {
        let bend = self.bend_of.get(row).filter(|bend| !bend.is_empty())?;
        Some(Step {
            t0: self.times[row - 1],
            t1: self.times[row],
            x0: self.row(row - 1),
            x1: self.row(row),
            bend: &self.bends[bend.clone()],
        })
    }

    /// A signal at the fraction `theta` of the step that ends at `row`: the discrete states of a step are those of the row
    /// it starts from.
    fn read_within(&self, reader: Reader, row: usize, step: &Step, theta: f64, scratch: &mut Scratch) -> f64 {
        // Only what the signal reads: a circuit has a hundred unknowns, a part a few.
        let mut need = |i: usize| scratch.x[i] = step.value(i, theta);
        match reader {
            Reader::Reference => {}
            Reader::Unknown(index) => need(index),
            Reader::Difference(from, to) => [from, to].into_iter().flatten().for_each(need),
            Reader::Flow { part, .. } | Reader::Probe { part, .. } => {
                let index = &self.layout.instances[part].index;
                index.iter().filter(|&&i| i != REFERENCE).for_each(|&i| need(i as usize));
            }
        }
        self.read(reader, step.time(theta), &scratch.x, row - 1, &mut scratch.equations)
    }

    fn scratch(&self) -> Scratch {
        Scratch { x: vec![0.0; self.layout.size()], equations: self.layout.scratch() }
    }

    /// Values on a grid of times within the run. At the time of an event it is the later value.
    ///
    /// Between its ends a step is the method's own polynomial, whose error is below ten times the step tolerance.
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
        let mut scratch = self.scratch();
        let mut found = Extremes { max: f64::NAN, max_at: f64::NAN, min: f64::NAN, min_at: f64::NAN };
        let mut note = |t: f64, value: f64| {
            if value > found.max || found.max.is_nan() {
                (found.max, found.max_at) = (value, t);
            }
            if value < found.min || found.min.is_nan() {
                (found.min, found.min_at) = (value, t);
            }
        };
        for row in 0..self.len() {
            let t = self.times[row];
            if t < from || t > to {
                continue;
            }
            note(t, self.read(reader, t, self.row(row), row, &mut scratch.equations));
            let Some(step) = self.step(row).filter(|step| step.t0 >= from) else { continue };
            let looks = LOOKS.map(|theta| self.read_within(reader, row, &step, theta, &mut scratch));
            for (look, value) in LOOKS.into_iter().zip(looks) {
                note(step.time(look), value);
            }
            for (theta, _) in turns(looks) {
                let theta = self.turn(reader, row, &step, theta, &mut scratch);
                note(step.time(theta), self.read_within(reader, row, &step, theta, &mut scratch));
            }
        }
        Ok(found)
    }

    /// Where the signal turns near `theta`: two rounds of a narrower parabola.
    fn turn(&self, reader: Reader, row: usize, step: &Step, mut theta: f64, scratch: &mut Scratch) -> f64 {
        for width in [0.05, 0.005] {
            let middle = theta.clamp(width, 1.0 - width);
            let [a, b, c] =
                [middle - width, middle, middle + width].map(|at| self.read_within(reader, row, step, at, scratch));
            let (s, k) = (0.5 * (c - a), 0.5 * (a + c) - b);
            let better = middle - 0.5 * width * s / k;
            if better.is_finite() && (better - middle).abs() <= 2.0 * width {
                theta = better.clamp(0.0, 1.0);
            }
        }
        theta
    }

    /// Integral of `weight(value)` of a signal from the start of the run to each row, by the Gauss rule with three points a step.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn accumulated(&self, signal: &Signal, weight: impl Fn(f64) -> f64) -> Result<Vec<f64>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.scratch();
        let mut sum = 0.0;
        let mut sums = Vec::with_capacity(self.len());
        for row in 0..self.len() {
            if let Some(step) = self.step(row) {
                for (theta, share) in GAUSS {
                    let value = self.read_within(reader, row, &step, theta, &mut scratch);
                    sum += (step.t1 - step.t0) * share * weight(value);
                }
            }
            sums.push(sum);
        }
        Ok(sums)
    }

    /// A signal as a polyline close to the dense output: up to `most` pieces a step, fewer where it is shorter than
    /// `most` times `piece` seconds. Rows at an event keep both their values.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub(crate) fn polyline(&self, signal: &Signal, piece: f64, most: u32) -> Result<Vec<(f64, f64)>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.scratch();
        let mut points = Vec::with_capacity(2 * self.len());
        for row in 0..self.len() {
            if let Some(step) = self.step(row) {
                let pieces = ((step.t1 - step.t0) / piece).ceil().clamp(1.0, f64::from(most));
                for k in 1..pieces as u32 {
                    let theta = f64::from(k) / pieces;
                    points.push((step.time(theta), self.read_within(reader, row, &step, theta, &mut scratch)));
                }
            }
            let t = self.times[row];
            points.push((t, self.read(reader, t, self.row(row), row, &mut scratch.equations)));
        }
        Ok(points)
    }

    /// First time from `from` on at which the signal crosses `level` in the given direction, on the dense output or by a
    /// jump at an event.
    ///
    /// # Errors
    /// No such node, part, terminal or state.
    pub fn crossing(&self, signal: &Signal, level: f64, rising: bool, from: f64) -> Result<Option<f64>, Error> {
        let reader = self.reader(signal)?;
        let mut scratch = self.scratch();
        let sign = if rising { 1.0 } else { -1.0 };
        for row in 1..self.len() {
            if self.times[row] < from {
                continue;
            }
            let Some(step) = self.step(row) else {
                // A jump at an event may cross the level too.
                let [before, after] = [row - 1, row].map(|row| {
                    sign * (self.read(reader, self.times[row], self.row(row), row, &mut scratch.equations) - level)
                });
                if before <= 0.0 && after > 0.0 {
                    return Ok(Some(self.times[row]));
                }
                continue;
            };
            let values = LOOKS.map(|theta| self.read_within(reader, row, &step, theta, &mut scratch));
            let mut looks: Vec<f64> = LOOKS.into_iter().chain(turns(values).map(|(theta, _)| theta)).collect();
            looks.sort_by(f64::total_cmp);
            let mut read = |theta: f64| sign * (self.read_within(reader, row, &step, theta, &mut scratch) - level);
            let first = ((from - step.t0) / (step.t1 - step.t0)).max(0.0);
            let mut low = first;
            for look in looks.into_iter().filter(|look| *look > first) {
                let (below, above) = (read(low), read(look));
                if below <= 0.0 && above > 0.0 {
                    let mut high = look;
                    for _ in 0..60 {
                        let middle = 0.5 * (low + high);
                        if read(middle) > 0.0 { high = middle } else { low = middle }
                    }
                    return Ok(Some(step.time(high)));
                }
                low = look;
            }
        }
        Ok(None)
    }

    /// The state at the end of the run, to start another from.
    pub fn state_at_end(&self) -> Option<State> {
        (!self.is_empty()).then(|| State::of(&self.trace, self.len() - 1))
    }
}

/// Scratch for reading signals within steps.
struct Scratch {
    x: Vec<f64>,
    equations: LocalEquations,
}
