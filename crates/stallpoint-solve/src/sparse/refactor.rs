//! Numeric factorisation along a schedule: no search, no allocation.

use super::noise::{self, Dice, clear};
use super::schedule::Schedule;

/// A pivot below this part of both its row and its column is looked at more closely under new scales,
/// unless it was found good at no more than twice that part. Own choice, no source.
const WEAKEST: f64 = 0.05;
/// Updates may be this many times the largest scaled value: two of sixteen digits. Own choice, no
/// source.
const GROWTH: f64 = 1e2;
/// Updates that were larger when the pivot was chosen may be this many times what they were then. In a large network
/// they grow without harm, as the resistances of a long path add up. Own choice, no source.
const MORE: f64 = 10.0;
/// Fresh scales leave no value above this. Larger ones mean stale scales, which must not widen the
/// limit of growth: rows that are small now would drown.
const FRESH: f64 = 4.0;
/// A pivot that fell by more than this is checked against its rounding errors. Own choice, no source.
const DROP: f64 = 1e-3;
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
    /// The pivot of this step is too weak.
    Weak(usize),
    /// Some value is not finite, or beyond what the scales were made for.
    Wild,
}

impl Schedule {
    /// Factorises with new values, one per slot.
    pub(super) fn refactor(&mut self, values: &[f64], trust: Trust) -> Outcome {
        let Some(top) = self.load(values) else {
            return Outcome::Wild;
        };
        let usual = GROWTH * top.min(FRESH);
        let mut later = &mut self.factors[..];
        let mut targets = &self.targets[..];
        let mut doubtful = false;
        for (step, (block, watch)) in self.blocks.iter().zip(&mut self.watches).enumerate() {
            let (head, tail) = later.split_at_mut(block.len());
            later = tail;
            let Some((pivot, others)) = head.split_first_mut() else {
                continue;
            };
            let (upper, lower) = others.split_at_mut(block.upper as usize);
            let size = pivot.abs();
            let (across, down) = (largest(upper), largest(lower));
            let least = across.min(down);
            let weakest = if trust == Trust::Neither {
                larger(watch.part * least, TINY)
            } else {
                // What is good by its updates sets its own measure (0/0 leaves the usual one).
                watch.part = WEAKEST.min(0.5 * size / least);
                TINY
            };
            if trust == Trust::Pivots {
                watch.growth = across * down / size;
            }
            let limit = larger(usual, MORE * watch.growth);
            // Written so that a NaN fails.
            if !(size >= weakest && across * down <= limit * size && size <= HUGE) {
                return Outcome::Weak(step);
            }
            doubtful |= size < DROP * watch.seen;
            watch.seen = larger(watch.seen, size);
            let inverse = 1.0 / *pivot;
            *pivot = inverse;
            for left in lower {
                let l = *left * inverse;
                *left = l;
                let (now, rest) = targets.split_at(upper.len());
                targets = rest;
                for (u, &target) in upper.iter().zip(now) {
                    later[target as usize] -= l * u;
                }
            }
            // So that a solution need not wait for the pivot.
            upper.iter_mut().for_each(|u| *u *= inverse);
        }
        if doubtful { Outcome::Doubtful } else { Outcome::Good }
    }

    /// The same with an estimate of the rounding errors; weak if they swamp a pivot.
    ///
    /// Gives the same factors, bit for bit, and makes the present pivots the measure of later drops.
    pub(super) fn inspect(&mut self, values: &[f64]) -> Outcome {
        if self.load(values).is_none() {
            return Outcome::Wild;
        }
        let mut dice = Dice::new();
        self.noise.clear();
        self.noise.extend(self.factors.iter().map(|&value| dice.rounding(value)));
        let (mut start, mut done) = (0, 0);
        for (step, block) in self.blocks.iter().enumerate() {
            let (upper, lower) = (start + 1, start + 1 + block.upper as usize);
            let end = start + block.len();
            let (pivot, pivot_noise) = (self.factors[start], self.noise[start]);
            if !clear(pivot, &pivot_noise) {
                return Outcome::Weak(step);
            }
            self.watches[step].seen = pivot.abs();
            let inverse = 1.0 / pivot;
            self.factors[start] = inverse;
            for left in lower..end {
                let l = self.factors[left] * inverse;
                let l_noise = noise::quotient(&self.noise[left], l, &pivot_noise, inverse);
                self.factors[left] = l;
                for above in upper..lower {
                    let (u, u_noise) = (self.factors[above], self.noise[above]);
                    let target = end + self.targets[done] as usize;
                    done += 1;
                    self.factors[target] -= l * u;
                    let value = self.factors[target];
                    noise::update(&mut self.noise[target], value, (l, &l_noise), (u, &u_noise), &mut dice);
                }
            }
            self.factors[upper..lower].iter_mut().for_each(|u| *u *= inverse);
            start = end;
        }
        Outcome::Good
    }

    /// Scatters the scaled values and gives the size of the largest, or nothing if one is not finite
    /// or far beyond the scales.
    fn load(&mut self, values: &[f64]) -> Option<f64> {
        for &place in &self.fills {
            self.factors[place as usize] = 0.0;
        }
        let mut fine = true;
        let mut top = 0f64;
        for ((&value, scale), &place) in values.iter().zip(&self.scales).zip(&self.places) {
            let scaled = value * scale;
            // A maximum passes over NaN, this comparison does not.
            fine &= scaled.abs() <= HUGE;
            top = larger(top, scaled.abs());
            self.factors[place as usize] = scaled;
        }
        fine.then_some(top)
    }
}

fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |top, value| larger(top, value.abs()))
}

/// One instruction where `f64::max`, careful with NaN, takes several.
fn larger(top: f64, value: f64) -> f64 {
    if value > top { value } else { top }
}
