//! Numeric factorisation along a schedule: no search, no allocation.

use super::dense;
use super::schedule::{Schedule, Watch};

/// A pivot below this part of both its row and its column is looked at more closely under new scales,
/// unless it was found good at no more than twice that part. Own choice, no source.
const WEAKEST: f64 = 0.05;
/// Updates may be this large where scales leave no value above two: two of sixteen digits. Own choice, no source.
const GROWTH: f64 = 2e2;
/// Updates that were larger when the pivot was chosen may be this many times what they were then. In a large network
/// they grow without harm, as the resistances of a long path add up. Own choice, no source.
const MORE: f64 = 10.0;
/// A pivot that fell by more than this is checked against its rounding errors. Own choice, no source.
pub(super) const DROP: f64 = 1e-3;
/// Smallest and largest sizes worth working with on a scaled matrix.
const TINY: f64 = 1e-200;
const HUGE: f64 = 1e100;

/// What is known of the scales and pivots a refactorisation is to follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Trust {
    /// Both were chosen for other values.
    Neither,
    /// The scales are made for these values: the size of the updates alone tells a good pivot.
    Scales,
    /// The pivots, too, were just chosen for these values, by stricter rules.
    Pivots,
}

/// How a refactorisation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Outcome {
    /// The factors are good.
    Good,
    /// Some pivot became much smaller than it was: rounding errors may be all that is left of it.
    Doubtful,
    /// The pivot of this step is too weak, or a value near it is not finite or beyond what the scales were made for.
    Weak(usize),
}

/// A pivot's size beside the sums of its row and column. Sums, not the largest: they do not pass over a NaN.
#[derive(Clone, Copy)]
struct Pivot {
    size: f64,
    across: f64,
    down: f64,
}

impl Pivot {
    /// Written so that a NaN fails, and a pivot of nothing.
    #[inline(always)]
    fn is_good(&self, watch: &Watch) -> bool {
        let Self { size, across, down } = *self;
        size >= watch.part * smaller(across, down) && across * down < watch.growth * size
    }

    /// Keeps the largest size; whether this one is possible at all, and whether it fell far.
    #[inline(always)]
    fn compare(&self, seen: &mut f64, fell: &mut bool) -> bool {
        let size = self.size;
        if size > *seen {
            *seen = size;
            if size > HUGE {
                return false;
            }
        } else if size < DROP * *seen {
            *fell = true;
            if size < TINY {
                return false;
            }
        }
        true
    }

    /// A pivot under scales made for its values: what is good by its updates sets its own measure.
    fn trust(&self, watch: &mut Watch, pivots: bool) -> bool {
        let Self { size, across, down } = *self;
        if pivots {
            watch.growth = larger(GROWTH, MORE * (across * down / size));
        }
        // 0/0 leaves the usual one.
        watch.part = WEAKEST.min(0.5 * size / smaller(across, down));
        (TINY..=HUGE).contains(&size) && across * down < watch.growth * size
    }
}

impl Schedule {
    /// Factorises with new values, one per slot.
    pub(super) fn refactor(&mut self, values: &[f64], trust: Trust) -> Outcome {
        self.load(values);
        let mut fell = false;
        let weak = match trust {
            Trust::Neither => {
                self.eliminate(|pivot, watch| pivot.compare(&mut watch.seen, &mut fell) && pivot.is_good(watch))
            }
            _ => self.eliminate(|pivot, watch| {
                pivot.compare(&mut watch.seen, &mut fell) && pivot.trust(watch, trust == Trust::Pivots)
            }),
        };
        match weak {
            Some(step) => Outcome::Weak(step),
            None if fell => Outcome::Doubtful,
            None => Outcome::Good,
        }
    }

    /// Eliminates what is loaded; the step at which `judge` says no.
    fn eliminate(&mut self, mut judge: impl FnMut(Pivot, &mut Watch) -> bool) -> Option<usize> {
        let mut walk = Walk {
            factors: &mut self.factors,
            targets: &self.targets,
            watches: &mut self.watches,
            step: 0,
            upper: self.upper_start,
            lower: self.lower_start,
        };
        for run in &self.runs {
            let count = run.count as usize;
            let fine = match (run.shape.upper, run.shape.lower) {
                (1, 1) => walk.run::<1, 1>(count, &mut judge),
                (2, 1) => walk.run::<2, 1>(count, &mut judge),
                (1, 2) => walk.run::<1, 2>(count, &mut judge),
                (2, 2) => walk.run::<2, 2>(count, &mut judge),
                (3, 2) => walk.run::<3, 2>(count, &mut judge),
                (2, 3) => walk.run::<2, 3>(count, &mut judge),
                (3, 3) => walk.run::<3, 3>(count, &mut judge),
                (upper, lower) => walk.any(count, upper as usize, lower as usize, &mut judge),
            };
            if !fine {
                return Some(walk.step);
            }
        }
        let (sparse, dense) = (self.sparse, self.dense);
        if dense == 0 {
            return None;
        }
        let watches = &mut self.watches[sparse..];
        let judge =
            |k: usize, pivot: f64, across, down| judge(Pivot { size: pivot.abs(), across, down }, &mut watches[k]);
        dense::eliminate(&mut self.factors[self.dense_start..], dense, &mut self.columns, judge)
            .err()
            .map(|k| sparse + k)
    }

    /// Puts the scaled values in their places.
    pub(super) fn load(&mut self, values: &[f64]) {
        let (streams, square) = self.factors.split_at_mut(self.dense_start);
        let (factors, slots, exponents) =
            (streams.as_chunks_mut::<4>(), self.slots.as_chunks::<4>(), self.exponents.as_chunks::<4>());
        for ((factors, slots), exponents) in factors.0.iter_mut().zip(slots.0).zip(exponents.0) {
            for k in 0..4 {
                factors[k] = values[slots[k] as usize] * power(exponents[k]);
            }
        }
        for ((factor, &slot), &exponent) in factors.1.iter_mut().zip(slots.1).zip(exponents.1) {
            *factor = values[slot as usize] * power(exponent);
        }
        if self.dense > 0 {
            square.fill(0.0);
            for &(place, slot, exponent) in &self.dense_slots {
                square[place as usize - self.dense_start] = values[slot as usize] * power(exponent);
            }
        }
    }
}

/// The place in all streams at once.
struct Walk<'a> {
    factors: &'a mut [f64],
    targets: &'a [u32],
    watches: &'a mut [Watch],
    step: usize,
    upper: usize,
    lower: usize,
}

impl Walk<'_> {
    /// Steps of one shape known to the compiler: no inner loops are left.
    #[inline(always)]
    fn run<const U: usize, const L: usize>(
        &mut self,
        count: usize,
        judge: &mut impl FnMut(Pivot, &mut Watch) -> bool,
    ) -> bool {
        let factors = &mut *self.factors;
        let (now, later) = self.targets.split_at(count * U * L);
        self.targets = later;
        // One array per step, one row of it per lower entry.
        let now = now.as_chunks::<U>().0.as_chunks::<L>().0;
        let (watches, rest) = std::mem::take(&mut self.watches).split_at_mut(count);
        self.watches = rest;
        // Of their own, so that they stay in registers.
        let (mut step, mut above, mut left) = (self.step, self.upper, self.lower);
        for (targets, watch) in now.iter().zip(watches) {
            let pivot = factors[step];
            let (upper, lower) = (above..above + U, left..left + L);
            let mut u = [0.0; U];
            u.copy_from_slice(&factors[upper.clone()]);
            let mut l = [0.0; L];
            l.copy_from_slice(&factors[lower.clone()]);
            let across = u[1..].iter().fold(u[0].abs(), |sum, value| sum + value.abs());
            let down = l[1..].iter().fold(l[0].abs(), |sum, value| sum + value.abs());
            if !judge(Pivot { size: pivot.abs(), across, down }, watch) {
                self.step = step;
                return false;
            }
            let inverse = 1.0 / pivot;
            factors[step] = inverse;
            let l = l.map(|l| l * inverse);
            factors[lower].copy_from_slice(&l);
            // So that a solution need not wait for the pivot.
            factors[upper].copy_from_slice(&u.map(|u| u * inverse));
            for (l, targets) in l.iter().zip(targets) {
                for (u, &target) in u.iter().zip(targets) {
                    factors[target as usize] -= l * u;
                }
            }
            step += 1;
            above += U;
            left += L;
        }
        (self.step, self.upper, self.lower) = (step, above, left);
        true
    }

    #[inline(never)]
    fn any(
        &mut self,
        count: usize,
        upper: usize,
        lower: usize,
        judge: &mut impl FnMut(Pivot, &mut Watch) -> bool,
    ) -> bool {
        let (watches, rest) = std::mem::take(&mut self.watches).split_at_mut(count);
        self.watches = rest;
        for watch in watches {
            let factors = &mut *self.factors;
            let pivot = factors[self.step];
            let across = dense::sum(&factors[self.upper..self.upper + upper]);
            let down = dense::sum(&factors[self.lower..self.lower + lower]);
            if !judge(Pivot { size: pivot.abs(), across, down }, watch) {
                return false;
            }
            let inverse = 1.0 / pivot;
            factors[self.step] = inverse;
            for at in self.lower..self.lower + lower {
                let l = factors[at] * inverse;
                factors[at] = l;
                let (now, later) = self.targets.split_at(upper);
                self.targets = later;
                for (at, &target) in (self.upper..).zip(now) {
                    let u = factors[at];
                    factors[target as usize] -= l * u;
                }
            }
            factors[self.upper..self.upper + upper].iter_mut().for_each(|u| *u *= inverse);
            self.step += 1;
            self.upper += upper;
            self.lower += lower;
        }
        true
    }
}

/// A power of two from its exponent as a number has it; 0 gives 0.
pub(super) fn power(exponent: u16) -> f64 {
    f64::from_bits(u64::from(exponent) << 52)
}

/// One instruction where `f64::max`, careful with NaN, takes several.
fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

fn smaller(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}
