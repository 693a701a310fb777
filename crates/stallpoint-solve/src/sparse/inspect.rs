//! A factorisation that looks at what rounding has left of its pivots.

use super::noise::{self, Dice, Noise, clear};
use super::refactor::Outcome;
use super::schedule::Schedule;

impl Schedule {
    /// Factorises again and follows the rounding errors; weak if they swamp a pivot.
    ///
    /// Gives the same factors, bit for bit, and makes the present pivots the measure of later drops.
    pub(super) fn inspect(&mut self, values: &[f64]) -> Outcome {
        self.load(values);
        let mut noise = std::mem::take(&mut self.noise);
        let mut dice = Dice::new();
        noise.clear();
        noise.extend(self.factors.iter().map(|&value| dice.rounding(value)));
        let weak = self.follow(&mut noise, &mut dice);
        self.noise = noise;
        weak.map_or(Outcome::Good, Outcome::Weak)
    }

    /// The step whose pivot is lost, if there is one.
    fn follow(&mut self, noise: &mut [Noise], dice: &mut Dice) -> Option<usize> {
        let (mut step, mut upper, mut lower, mut targets) = (0, self.upper_start, self.lower_start, &self.targets[..]);
        for run in &self.runs {
            let (uppers, lowers) = (run.shape.upper as usize, run.shape.lower as usize);
            for _ in 0..run.count {
                let (pivot, pivot_noise) = (self.factors[step], noise[step]);
                if !clear(pivot, &pivot_noise) {
                    return Some(step);
                }
                self.watches[step].seen = pivot.abs();
                let inverse = 1.0 / pivot;
                self.factors[step] = inverse;
                for left in lower..lower + lowers {
                    let (now, later) = targets.split_at(uppers);
                    targets = later;
                    let l = self.factors[left] * inverse;
                    let l_noise = noise::quotient(&noise[left], l, &pivot_noise, inverse);
                    self.factors[left] = l;
                    for (above, &target) in (upper..).zip(now) {
                        let (u, u_noise) = (self.factors[above], noise[above]);
                        let value = &mut self.factors[target as usize];
                        *value -= l * u;
                        noise::update(&mut noise[target as usize], *value, (l, &l_noise), (u, &u_noise), dice);
                    }
                }
                self.factors[upper..upper + uppers].iter_mut().for_each(|u| *u *= inverse);
                (step, upper, lower) = (step + 1, upper + uppers, lower + lowers);
            }
        }
        let m = self.dense;
        let (square, noise) = (&mut self.factors[self.dense_start..], &mut noise[self.dense_start..]);
        for k in 0..m {
            let (pivot, pivot_noise) = (square[k * m + k], noise[k * m + k]);
            if !clear(pivot, &pivot_noise) {
                return Some(step + k);
            }
            self.watches[step + k].seen = pivot.abs();
            let inverse = 1.0 / pivot;
            square[k * m + k] = inverse;
            for i in k + 1..m {
                let l = square[i * m + k] * inverse;
                let l_noise = noise::quotient(&noise[i * m + k], l, &pivot_noise, inverse);
                square[i * m + k] = l;
                for j in k + 1..m {
                    let (u, u_noise) = (square[k * m + j], noise[k * m + j]);
                    square[i * m + j] -= l * u;
                    noise::update(&mut noise[i * m + j], square[i * m + j], (l, &l_noise), (u, &u_noise), dice);
                }
            }
        }
        None
    }
}
