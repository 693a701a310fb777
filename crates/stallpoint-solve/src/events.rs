//! Finding where guards become positive within a step.

use crate::dense::{Step, extremum, interpolate};
use crate::system::System;

/// Guards at the three points of a step, and where the first one fires.
pub(crate) struct Watch {
    start: Vec<f64>,
    mid: Vec<f64>,
    end: Vec<f64>,
    /// Scratch for the guards and unknowns at a trial point.
    trial: Vec<f64>,
    x: Vec<f64>,
    /// Guards that fire at the located time.
    pub(crate) firing: Vec<usize>,
}

impl Watch {
    pub(crate) fn new(system: &impl System) -> Self {
        let zeros = || vec![0.0; system.guard_count()];
        Self {
            start: zeros(),
            mid: zeros(),
            end: zeros(),
            trial: zeros(),
            x: vec![0.0; system.size()],
            firing: Vec::with_capacity(system.guard_count()),
        }
    }

    /// Guards that are positive at `(t, x)` now; also makes it the start of the next step.
    pub(crate) fn begin(&mut self, system: &mut impl System, t: f64, x: &[f64]) {
        system.guards(t, x, &mut self.start);
        self.firing.clear();
        self.firing.extend((0..self.start.len()).filter(|&i| self.start[i] > 0.0));
    }

    /// Where in the step the first guard fires; those that do so are left in `firing`. With `landing`, the step was made
    /// to end where `firing` were found: they stay, unless another one comes first.
    ///
    /// Each guard is followed as the parabola through its values at the step's three points, which is exact for guards
    /// linear in the unknowns: a guard that rises above zero and falls again inside one step is seen.
    pub(crate) fn locate(&mut self, system: &mut impl System, step: &Step, landing: bool) -> Option<f64> {
        if !landing {
            self.firing.clear();
        }
        let count = self.start.len();
        if count == 0 {
            return None;
        }
        system.guards(step.time(crate::dense::MIDDLE), step.mid, &mut self.mid);
        system.guards(step.t1, step.x1, &mut self.end);
        let mut first = if landing { 1.0 } else { f64::INFINITY };
        let mut found = false;
        for i in 0..count {
            let points = [self.start[i], self.mid[i], self.end[i]];
            let Some(beyond) = positive_point(points) else { continue };
            let Some(theta) = self.root(system, step, i, beyond) else { continue };
            // Guards that share a root to rounding fire together, in the order of their index.
            let together = 1e-9;
            if theta < first - together {
                first = theta;
                found = true;
                self.firing.clear();
                self.firing.push(i);
            } else if theta <= first + together && !self.firing.contains(&i) {
                self.firing.push(i);
            }
        }
        found.then_some(first)
    }

    /// By which part of its length the step just located in ends before its event; zero when it does not. A landing is
    /// another step than the one it was found in, so it may end a little off.
    pub(crate) fn short_of(&self) -> f64 {
        let parts = self.firing.iter().map(|&i| {
            let slope = crate::dense::slope_at_end([self.start[i], self.mid[i], self.end[i]]);
            let short = -self.end[i] / slope;
            // Where the guard does not rise, or would only far away, the parabola is no guide.
            if short > 0.0 && short < 0.01 { short } else { 0.0 }
        });
        parts.reduce(f64::min).unwrap_or(0.0)
    }

    /// The end of the step becomes the start of the next.
    pub(crate) fn advance(&mut self) {
        std::mem::swap(&mut self.start, &mut self.end);
    }

    /// First root of guard `i` between the start and `beyond`, if it is positive there: by bisection with secant steps on the dense output.
    fn root(&mut self, system: &mut impl System, step: &Step, i: usize, beyond: f64) -> Option<f64> {
        let (mut low, mut high) = (0.0, beyond);
        let mut g_low = self.start[i];
        let mut g_high = self.value(system, step, i, beyond);
        if g_high <= 0.0 || g_high.is_nan() {
            return None; // a guard that is not linear: its parabola promised too much
        }
        for round in 0..60 {
            if high - low < 1e-13 {
                break;
            }
            let secant = low - g_low * (high - low) / (g_high - g_low);
            let margin = 1e-3 * (high - low);
            let theta = if round % 3 == 2 || !(secant > low && secant < high) {
                0.5 * (low + high)
            } else {
                secant.clamp(low + margin, high - margin)
            };
            let g = self.value(system, step, i, theta);
            if g > 0.0 {
                (high, g_high) = (theta, g);
            } else {
                (low, g_low) = (theta, g);
            }
        }
        Some(high)
    }

    fn value(&mut self, system: &mut impl System, step: &Step, i: usize, theta: f64) -> f64 {
        step.sample(theta, &mut self.x);
        system.guards(step.time(theta), &self.x, &mut self.trial);
        self.trial[i]
    }
}

/// A fraction of the step at which the parabola through three guard values is positive, the earliest known.
fn positive_point(points: [f64; 3]) -> Option<f64> {
    let peak = extremum(points).filter(|&theta| interpolate(points, theta) > 0.0);
    let mid = (points[1] > 0.0).then_some(crate::dense::MIDDLE);
    let end = (points[2] > 0.0).then_some(1.0);
    [peak, mid, end].into_iter().flatten().reduce(f64::min)
}
