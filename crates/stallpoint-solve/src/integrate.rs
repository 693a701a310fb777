//! The driver: steps, events, restarts.

use crate::counters::Counters;
use crate::dense::Step;
use crate::error::SolveError;
use crate::events::Watch;
use crate::method::Stepper;
use crate::newton::Newton;
use crate::options::Options;
use crate::restart::Restart;
use crate::system::{Cause, System};
use crate::weights::Weights;

/// What an observer wants next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Go on.
    Continue,
    /// Stop here: what was computed stays.
    Stop,
}

/// Sees a run of the system `S` as it is made.
pub trait Observer<S> {
    /// Consistent values at the start of the run, before the first step.
    fn begin(&mut self, _system: &S, _t: f64, _x: &[f64]) {}

    /// An accepted step, in the mode that it was made in.
    fn step(&mut self, _system: &S, _step: &Step) -> Flow {
        Flow::Continue
    }

    /// Values after a mode change at `t`; those before it were the end of the last step. They are of the moment at which the next
    /// step starts, later than `t` by the little that the restart takes ([`Options::restart_step`]).
    fn jump(&mut self, _system: &S, _t: f64, _x: &[f64]) -> Flow {
        Flow::Continue
    }
}

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// At the end of its span.
    Finished,
    /// Stopped by its observer.
    Stopped,
    /// At the limit of steps.
    StepLimit,
}

/// A run that ended without an error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ended {
    /// How.
    pub ending: Ending,
    /// When.
    pub t: f64,
    /// At what cost.
    pub counters: Counters,
}

/// Integrates `system` from `span.0` to `span.1`, starting at `x` and leaving the last values there.
///
/// Steps by the method of the options with error control per step; guards located on the dense output and landed on by redoing
/// the step; scheduled times landed on exactly; after each mode change consistent values by two or more tiny implicit Euler
/// steps, each longer than the one before.
///
/// # Errors
/// A [`SolveError`] names the unknown, equation or guards to blame; `x` then holds the last accepted values and the
/// observer has seen every step up to them.
pub fn integrate<S: System>(
    system: &mut S,
    span: (f64, f64),
    x: &mut [f64],
    options: &Options,
    observer: &mut impl Observer<S>,
) -> Result<Ended, SolveError> {
    check(system, span, x, options)?;
    let mut run = Run {
        newton: Newton::new(system)?,
        weights: Weights::new(system, options),
        method: Stepper::new(system, options),
        restart: Restart::new(system),
        watch: Watch::new(system),
        options,
        t: span.0,
        end: span.1,
        last: None,
        fired: Vec::with_capacity(system.guard_count()),
        forced: Vec::with_capacity(system.guard_count()),
        ahead: 0.0,
        made_consistent_at: f64::NAN,
        accepted: Vec::with_capacity(x.len()),
    };
    let ending = run.go(system, x, observer)?;
    Ok(Ended { ending, t: run.t, counters: run.newton.counters })
}

fn check(system: &impl System, span: (f64, f64), x: &[f64], options: &Options) -> Result<(), SolveError> {
    let (from, to) = span;
    if !(from.is_finite() && to.is_finite() && to > from) {
        return Err(SolveError::EmptySpan { from, to });
    }
    if x.len() != system.size() {
        return Err(SolveError::Length { given: x.len(), expected: system.size() });
    }
    if !(options.rtol >= 1e-12 && options.rtol <= 0.1) {
        return Err(SolveError::Option {
            option: "rtol",
            value: options.rtol,
            advice: "choose it between 1e-12 and 0.1",
        });
    }
    let positive = [
        ("max_step", options.max_step),
        ("atol_factor", options.atol_factor),
        ("restart_step", options.restart_step),
        ("first_step", options.first_step.unwrap_or(1.0)),
    ];
    for (option, value) in positive {
        if value <= 0.0 || value.is_nan() {
            return Err(SolveError::Option { option, value, advice: "it must be above zero" });
        }
    }
    Ok(())
}

/// The first step is at most this part of the span times the cube root of the tolerance, and so after a mode change of
/// what is left of it: where nothing but sources moves, the slope at one instant does not tell a length.
const FIRST: f64 = 0.02;
const FIRST_AFTER_CHANGE: f64 = 0.2;
/// Rejections by the dense output alone in one step: a jump that no event declares would never let it pass.
const DENSE_REJECTIONS: u32 = 6;

/// The step that is tried, as a part of the one that would just meet the tolerance.
const SAFETY: f64 = 0.85;
/// An error below this says nothing of how errors develop.
const SMALL_ERROR: f64 = 1e-2;
/// Rejections of one step after which the unknowns are made consistent again.
const MANY_REJECTIONS: u32 = 8;

/// A landing that ends before its event by more than this part of the step is lengthened, so many times at most.
const LANDED: f64 = 1e-6;
const LENGTHENED: u32 = 2;

struct Run<'a> {
    newton: Newton,
    weights: Weights,
    method: Stepper,
    restart: Restart,
    watch: Watch,
    options: &'a Options,
    t: f64,
    end: f64,
    /// Length and error of the last step in this mode.
    last: Option<(f64, f64)>,
    /// Guards that fired at this instant, and room for those that fire next.
    fired: Vec<usize>,
    forced: Vec<usize>,
    /// By how much the unknowns are later than `t` after a restart.
    ahead: f64,
    /// When the unknowns were last made consistent because steps would not succeed.
    made_consistent_at: f64,
    /// The unknowns before that, to give back when it did not help.
    accepted: Vec<f64>,
}

impl Run<'_> {
    fn go<S: System>(
        &mut self,
        system: &mut S,
        x: &mut [f64],
        observer: &mut impl Observer<S>,
    ) -> Result<Ending, SolveError> {
        let mut h = self.consistent(system, x)?;
        observer.begin(system, self.t, x);
        // What is due or already true at the start happens at the start.
        self.watch.begin(system, self.t, x);
        if let Some(next) = self.change(system, x)? {
            h = next;
            if observer.jump(system, self.t, x) == Flow::Stop {
                return Ok(Ending::Stopped);
            }
        }
        self.go_on(system, x);
        h = self.options.first_step.unwrap_or(h.min(self.part_of_rest(FIRST)));
        while self.t < self.end {
            if self.newton.counters.steps >= self.options.max_steps {
                return Ok(Ending::StepLimit);
            }
            let (made, next) = match self.step(system, x, h) {
                Ok(Stepped::Made(made, next)) => (made, next),
                Err(error) => {
                    if self.made_consistent_at == self.t {
                        x.copy_from_slice(&self.accepted);
                    }
                    return Err(error);
                }
                Ok(Stepped::Inconsistent) => {
                    self.accepted.clear();
                    self.accepted.extend_from_slice(x);
                    h = match self.consistent(system, x) {
                        Ok(h) => h,
                        Err(error) => {
                            x.copy_from_slice(&self.accepted);
                            if self.method.fall_back(system, &mut self.newton, self.t, x) {
                                self.made_consistent_at = self.t;
                                continue;
                            }
                            return Err(error);
                        }
                    };
                    if observer.jump(system, self.t, x) == Flow::Stop {
                        return Ok(Ending::Stopped);
                    }
                    self.go_on(system, x);
                    self.watch.begin(system, self.t, x);
                    self.made_consistent_at = self.t;
                    continue;
                }
            };
            let t1 = made.lands_on.unwrap_or(self.t + made.h);
            let step = Step { t0: self.t, t1, x0: x, x1: self.method.x1(), bend: self.method.bend() };
            self.newton.counters.steps += 1;
            let flow = observer.step(system, &step);
            self.method.accept(system, &mut self.newton, x, made.h);
            x.copy_from_slice(self.method.x1());
            self.t = t1;
            h = next;
            if flow == Flow::Stop {
                return Ok(Ending::Stopped);
            }
            let due = system.next_stop().is_some_and(|stop| stop <= self.t);
            if !(made.fires || due) {
                self.watch.advance();
            } else if let Some(next) = self.change(system, x)? {
                h = next.min(self.part_of_rest(FIRST_AFTER_CHANGE));
                if observer.jump(system, self.t, x) == Flow::Stop {
                    return Ok(Ending::Stopped);
                }
                self.go_on(system, x);
            }
        }
        Ok(Ending::Finished)
    }

    fn part_of_rest(&self, part: f64) -> f64 {
        part * self.options.rtol.cbrt() * (self.end - self.t)
    }

    /// Makes `x` consistent; returns a first step length.
    fn consistent(&mut self, system: &mut impl System, x: &mut [f64]) -> Result<f64, SolveError> {
        self.last = None;
        let settled = self.restart.consistent(system, &mut self.newton, &self.weights, self.options, self.t, x)?;
        self.ahead += settled.ahead;
        Ok(settled.first_step)
    }

    /// Takes the consistent unknowns as the start of the next step, at the time that they are of.
    fn go_on(&mut self, system: &mut impl System, x: &[f64]) {
        let at = self.t + std::mem::take(&mut self.ahead);
        if at < self.stop(system) {
            self.t = at;
        }
        self.method.start(system, &mut self.newton, self.t, x);
    }

    /// The next time that a step must end at.
    fn stop(&self, system: &impl System) -> f64 {
        system.next_stop().map_or(self.end, |stop| stop.min(self.end))
    }

    /// Makes one accepted step from `(self.t, x)`; returns it and the length to try next.
    fn step(&mut self, system: &mut impl System, x: &[f64], wanted: f64) -> Result<Stepped, SolveError> {
        let smallest = 32.0 * f64::EPSILON * self.t.abs().max(self.options.restart_step);
        let mut h = wanted.min(self.options.max_step).max(smallest);
        let mut landing = false;
        let mut dense_rejections = 0;
        let mut rejections = 0;
        let mut failures = 0;
        let mut lengthened = 0;
        loop {
            let stop = self.stop(system);
            let left = stop - self.t;
            let mut lands_on = None;
            if !landing {
                if h >= left * (1.0 - 1e-9) {
                    (h, lands_on) = (left, Some(stop));
                } else if 2.0 * h > left {
                    h = 0.5 * left; // two like steps rather than a long and a tiny one
                }
            }
            let outcome = match self.method.attempt(system, &mut self.newton, &self.weights, self.t, x, h) {
                Ok(outcome) => outcome,
                Err(error) => {
                    self.newton.counters.rejected_by_newton += 1;
                    h *= 0.125;
                    landing = false;
                    failures += 1;
                    let hopeless = failures > MANY_REJECTIONS || h < smallest;
                    if hopeless && self.method.fall_back(system, &mut self.newton, self.t, x) {
                        failures = 0;
                        h = wanted;
                        continue;
                    }
                    if h < smallest {
                        return Err(error);
                    }
                    continue;
                }
            };
            let power = -1.0 / self.method.error_power();
            let error = outcome.error.max(outcome.dense);
            let mut factor = SAFETY * error.powf(power);
            if let Some((last, last_error)) = self.last.filter(|_| error <= 1.0) {
                // Where errors rise from step to step, as before a singularity, the steps shrink in time: Gustafsson's
                // controller, as in E. Hairer and G. Wanner, Solving Ordinary Differential Equations II, IV.8, equation (8.25).
                let trend = (h / last) * (last_error / error).powf(-power);
                factor *= trend.clamp(0.2, 1.0);
            }
            factor = factor.clamp(0.1, 5.0);
            if rejections > 0 {
                factor = factor.min(1.0); // a step that has just failed does not grow at once
            }
            let too_coarse = outcome.error <= 1.0 && outcome.dense > 1.0 && dense_rejections < DENSE_REJECTIONS;
            if outcome.error > 1.0 || too_coarse {
                dense_rejections += u32::from(too_coarse);
                self.newton.counters.rejected_by_error += 1;
                rejections += 1;
                h *= factor.min(0.9);
                landing = false;
                let hopeless = rejections > MANY_REJECTIONS || h < smallest;
                if hopeless && self.made_consistent_at != self.t {
                    return Ok(Stepped::Inconsistent);
                }
                if hopeless && self.method.fall_back(system, &mut self.newton, self.t, x) {
                    rejections = 0;
                    h = wanted;
                    continue;
                }
                if h < smallest {
                    let unknown = system.unknown_name(outcome.worst);
                    return Err(SolveError::StepTooSmall { t: self.t, step: h, unknown });
                }
                continue;
            }
            let step = Step {
                t0: self.t,
                t1: lands_on.unwrap_or(self.t + h),
                x0: x,
                x1: self.method.x1(),
                bend: self.method.bend(),
            };
            let located = self.watch.locate(system, &step, landing);
            let to_root = located.map_or(h, |theta| theta * h).max(smallest);
            // The end of the step is the event, as near as a time can say it.
            if h - to_root <= (1e-9 * h).max(smallest) {
                let short = if landing { self.watch.short_of() } else { 0.0 };
                if short > LANDED && lengthened < LENGTHENED && h * (1.0 + short) < left {
                    lengthened += 1;
                    self.newton.counters.redone_for_events += 1;
                    h *= 1.0 + short;
                    continue;
                }
                let fires = !self.watch.firing.is_empty();
                self.last = Some((h, error.max(SMALL_ERROR)));
                return Ok(Stepped::Made(Made { h, lands_on, fires }, h * factor));
            }
            self.newton.counters.redone_for_events += 1;
            h = to_root;
            landing = true;
        }
    }

    /// Fires everything due or true at `(self.t, x)` until nothing is left; returns a step length when anything fired.
    fn change(&mut self, system: &mut impl System, x: &mut [f64]) -> Result<Option<f64>, SolveError> {
        self.fired.clear();
        let mut scheduled = false;
        let mut changes = 0;
        let mut next = None;
        // Guards located by the last step fire even if rounding left them just below zero.
        let mut forced = std::mem::take(&mut self.forced);
        loop {
            std::mem::swap(&mut forced, &mut self.watch.firing);
            let due = system.next_stop().is_some_and(|stop| stop <= self.t);
            if due {
                scheduled = true;
                system.fire(Cause::Schedule, self.t, x);
            }
            // Those found while landing were added behind those landed for.
            forced.sort_unstable();
            for &guard in &forced {
                system.fire(Cause::Guard(guard), self.t, x);
                if !self.fired.contains(&guard) {
                    self.fired.push(guard);
                }
            }
            if !due && forced.is_empty() {
                break;
            }
            let count = usize::from(due) + forced.len();
            changes += count;
            self.newton.counters.events += count as u64;
            if changes > self.options.max_changes_at_instant {
                let mut causes: Vec<String> = self.fired.iter().map(|&guard| system.guard_name(guard)).collect();
                if scheduled {
                    causes.push("a scheduled time that does not move on".into());
                }
                let causes = causes.join(", ");
                return Err(SolveError::TooManyChanges {
                    t: self.t,
                    limit: self.options.max_changes_at_instant,
                    causes,
                });
            }
            next = Some(self.consistent(system, x)?);
            self.watch.begin(system, self.t, x);
        }
        self.forced = forced;
        Ok(next)
    }
}

/// What came of a step.
enum Stepped {
    /// An accepted step and the length to try next.
    Made(Made, f64),
    /// No length succeeds: unknowns that only a derivative determines may have drifted off.
    Inconsistent,
}

/// An accepted step.
struct Made {
    h: f64,
    /// The known time it ends at, if one was aimed for.
    lands_on: Option<f64>,
    /// Whether guards fire at its end; they are in the watch.
    fires: bool,
}
