//! Finding where guards become positive within a step.

use crate::dense::{LOOKS, Step, turns};
use crate::system::System;

/// A guard counts as reached though it is a little below zero, by this part of its change over the step.
const ROUNDING: f64 = 1e-6;
/// Beyond this part of the step an event is not near.
const NEAR: f64 = 0.01;

/// Guards at the looks of a step, and where the first one fires.
pub(crate) struct Watch {
    /// Guards at each of [`LOOKS`].
    looks: [Vec<f64>; LOOKS.len()],
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
            looks: std::array::from_fn(|_| zeros()),
            trial: zeros(),
            x: vec![0.0; system.size()],
            firing: Vec::with_capacity(system.guard_count()),
        }
    }

    /// Guards that are positive at `(t, x)` now; also makes it the start of the next step.
    pub(crate) fn begin(&mut self, system: &mut impl System, t: f64, x: &[f64]) {
        let start = &mut self.looks[0];
        system.guards(t, x, start);
        self.firing.clear();
        self.firing.extend((0..start.len()).filter(|&i| start[i] > 0.0));
    }

    /// Where in the step the first guard fires; those that do so are left in `firing`. With `landing`, the step was made
    /// to end where `firing` were found: they stay, unless another one comes first.
    ///
    /// Each guard is followed by parabolas through its values at the looks: one that rises above zero and falls again
    /// inside one step is seen.
    pub(crate) fn locate(&mut self, system: &mut impl System, step: &Step, landing: bool) -> Option<f64> {
        if !landing {
            self.firing.clear();
        }
        let count = self.trial.len();
        if count == 0 {
            return None;
        }
        for (look, theta) in LOOKS.into_iter().enumerate().skip(1) {
            if look + 1 == LOOKS.len() {
                system.guards(step.t1, step.x1, &mut self.looks[look]);
            } else {
                step.sample(theta, &mut self.x);
                system.guards(step.time(theta), &self.x, &mut self.looks[look]);
            }
        }
        let mut first = if landing { 1.0 } else { f64::INFINITY };
        let mut found = false;
        for i in 0..count {
            let values = std::array::from_fn(|look| self.looks[look][i]);
            let Some(beyond) = positive_point(values) else { continue };
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

    /// By which part of its length the step just located in, a landing, ends before its event: the step that lands is
    /// another one than the event was found in, so it may end a little off. Guards that the step does not even come near are
    /// dropped: they were an error of the dense output.
    pub(crate) fn short_of(&mut self) -> f64 {
        let looks = &self.looks;
        let short = |&i: &usize| {
            let [a, b, c] = [looks[2][i], looks[3][i], looks[4][i]];
            if c >= -ROUNDING * (c - looks[0][i]).abs() {
                return 0.0;
            }
            // Slope at the end of the parabola through the last three looks, a quarter of the step apart.
            let slope = 4.0 * (0.5 * (c - a) + (a + c - 2.0 * b));
            if slope > 0.0 { -c / slope } else { f64::INFINITY }
        };
        self.firing.retain(|i| short(i) < NEAR);
        self.firing.iter().map(short).reduce(f64::min).unwrap_or(0.0)
    }

    /// The end of the step becomes the start of the next.
    pub(crate) fn advance(&mut self) {
        self.looks.swap(0, LOOKS.len() - 1);
    }

    /// First root of guard `i` between the start and `beyond`, if it is positive there: by bisection with secant steps on the dense output.
    fn root(&mut self, system: &mut impl System, step: &Step, i: usize, beyond: f64) -> Option<f64> {
        let (mut low, mut high) = (0.0, beyond);
        let mut g_low = self.looks[0][i];
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

/// A fraction of the step at which a guard with these values at the looks is positive, the earliest known.
fn positive_point(values: [f64; LOOKS.len()]) -> Option<f64> {
    // A parabola through three looks rises above the highest by an eighth of their range at most where it answers for
    // its own part of the step.
    let (low, high) = values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &value| {
        (if value < low { value } else { low }, if value > high { value } else { high })
    });
    if high + 0.5 * (high - low) <= 0.0 {
        return None;
    }
    let peaks = turns(values).filter(|&(_, value)| value > 0.0).map(|(theta, _)| theta);
    let looks = LOOKS.into_iter().zip(values).skip(1).filter(|&(_, value)| value > 0.0).map(|(theta, _)| theta);
    peaks.chain(looks).reduce(f64::min)
}
