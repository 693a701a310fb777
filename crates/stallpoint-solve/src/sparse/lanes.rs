//! The same elimination for several matrices at once, one in each lane of the vector registers.

use super::refactor::{DROP, power};
use super::schedule::{Schedule, Watch};

/// Matrices at once.
pub const LANES: usize = 8;

type Lane = [f64; LANES];

/// Factors of eight matrices of one pattern, along the pivots that one of their like has chosen.
///
/// Made by [`Lu::lanes`](super::Lu::lanes) from factors that exist. It never chooses pivots: a lane whose matrix they
/// do not suit is said to have failed, and its matrix needs a [`Lu`](super::Lu) of its own. Each lane's answer differs
/// from the scalar one by rounding at most (in the order of the sums over a dense corner).
///
/// Worth it up to about 10,000 unknowns; eight matrices of 100,000 outgrow the cache where one still fits
/// (`benches/peers/REPORT.md` has figures). Factors that are kept for eight solutions each gain as much as those
/// that are not.
///
/// ```
/// use stallpoint_solve::sparse::{LANES, Lu, Pattern};
/// let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 0), (1, 1)])?;
/// let mut lu = Lu::new(&pattern)?;
/// lu.factor(&[2.0, 1.0, 1.0, 3.0])?;
/// let mut lanes = lu.lanes().ok_or("no factors")?;
/// // Slot by slot, a matrix in each lane; the last is singular.
/// let mut corner = [2.0; LANES];
/// (corner[0], corner[LANES - 1]) = (4.0, 1.0 / 3.0);
/// let good = lanes.factor(&[corner, [1.0; LANES], [1.0; LANES], [3.0; LANES]]);
/// assert!(good[..LANES - 1].iter().all(|&good| good) && !good[LANES - 1]);
/// let mut b = [[3.0; LANES], [4.0; LANES]];
/// b[0][0] = 5.0;
/// lanes.solve(&mut b);
/// assert_eq!((b[0][0], b[1][0], b[0][1]), (1.0, 1.0, 1.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Lanes {
    schedule: Schedule,
    factors: Vec<Lane>,
    work: Vec<Lane>,
    nonzeros: usize,
}

impl Lanes {
    pub(super) fn new(schedule: &Schedule, nonzeros: usize) -> Self {
        let zero = [0.0; LANES];
        Self {
            factors: vec![zero; schedule.factors.len()],
            work: vec![zero; schedule.work.len()],
            schedule: schedule.clone(),
            nonzeros,
        }
    }

    /// Factorises eight matrices, given slot by slot; which of them have factors now.
    ///
    /// A lane fails if one of its pivots is too weak by the measures of [`Lu`](super::Lu) or fell to less than a
    /// thousandth of what it was there, or if a value is not finite. All fail if `values` is not one per slot.
    pub fn factor(&mut self, values: &[Lane]) -> [bool; LANES] {
        if values.len() != self.nonzeros {
            return [false; LANES];
        }
        let schedule = &self.schedule;
        let (streams, square) = self.factors.split_at_mut(schedule.dense_start);
        for ((factor, &slot), &exponent) in streams.iter_mut().zip(&schedule.slots).zip(&schedule.exponents) {
            *factor = values[slot as usize].map(|value| value * power(exponent));
        }
        square.fill([0.0; LANES]);
        for &(place, slot, exponent) in &schedule.dense_slots {
            square[place as usize - schedule.dense_start] = values[slot as usize].map(|value| value * power(exponent));
        }
        let mut walk = Walk {
            factors: &mut self.factors,
            targets: &schedule.targets,
            step: 0,
            upper: schedule.upper_start,
            lower: schedule.lower_start,
            fine: [!0; LANES],
        };
        for run in &schedule.runs {
            let watches = &schedule.watches[walk.step..walk.step + run.count as usize];
            match (run.shape.upper, run.shape.lower) {
                (1, 1) => walk.run::<1, 1>(watches),
                (2, 1) => walk.run::<2, 1>(watches),
                (1, 2) => walk.run::<1, 2>(watches),
                (2, 2) => walk.run::<2, 2>(watches),
                (upper, lower) => walk.any(watches, upper as usize, lower as usize),
            }
        }
        let mut fine = walk.fine;
        let watches = &schedule.watches[schedule.sparse..];
        eliminate_square(&mut self.factors[schedule.dense_start..], schedule.dense, watches, &mut fine);
        fine.map(|mask| mask != 0)
    }

    /// Replaces eight right-hand sides, given row by row, by the solutions.
    ///
    /// Lanes that failed hold no meaning afterwards. If the length of `b` is not that of the matrices, all is NaN.
    pub fn solve(&mut self, b: &mut [Lane]) {
        let Self { schedule, factors, work, .. } = self;
        if b.len() != work.len() {
            b.fill([f64::NAN; LANES]);
            return;
        }
        for ((y, &row), &scale) in work.iter_mut().zip(&schedule.pivot_rows).zip(&schedule.row_scales) {
            *y = b[row as usize].map(|b| b * scale);
        }
        let (mut step, mut at) = (0, 0);
        for run in &schedule.runs {
            let lower = run.shape.lower as usize;
            for _ in 0..run.count {
                let y = work[step];
                for k in at..at + lower {
                    subtract(&mut work[schedule.lower_steps[k] as usize], &factors[schedule.lower_start + k], &y);
                }
                (step, at) = (step + 1, at + lower);
            }
        }
        solve_square(&factors[schedule.dense_start..], schedule.dense, &mut work[schedule.sparse..]);
        for step in schedule.sparse..work.len() {
            b[schedule.pivot_columns[step] as usize] = work[step].map(|x| x * schedule.column_scales[step]);
        }
        let (mut step, mut at) = (schedule.sparse, schedule.upper_steps.len());
        for run in schedule.runs.iter().rev() {
            let upper = run.shape.upper as usize;
            for _ in 0..run.count {
                (step, at) = (step - 1, at - upper);
                let mut x = times(&work[step], &factors[step]);
                for k in at..at + upper {
                    let known = work[schedule.upper_steps[k] as usize];
                    subtract(&mut x, &factors[schedule.upper_start + k], &known);
                }
                work[step] = x;
                b[schedule.pivot_columns[step] as usize] = x.map(|x| x * schedule.column_scales[step]);
            }
        }
    }
}

/// The place in all streams at once, and for each lane ones while its pivots are good.
struct Walk<'a> {
    factors: &'a mut [Lane],
    targets: &'a [u32],
    step: usize,
    upper: usize,
    lower: usize,
    fine: [u64; LANES],
}

impl Walk<'_> {
    #[inline(always)]
    fn run<const U: usize, const L: usize>(&mut self, watches: &[Watch]) {
        let factors = &mut *self.factors;
        let (now, later) = self.targets.split_at(watches.len() * U * L);
        self.targets = later;
        let now = now.as_chunks::<U>().0.as_chunks::<L>().0;
        let (mut step, mut upper, mut lower) = (self.step, self.upper, self.lower);
        for (targets, watch) in now.iter().zip(watches) {
            let pivot = factors[step];
            let mut u = [[0.0; LANES]; U];
            u.copy_from_slice(&factors[upper..upper + U]);
            let mut l = [[0.0; LANES]; L];
            l.copy_from_slice(&factors[lower..lower + L]);
            judge(&mut self.fine, watch, &pivot, &sum(&u), &sum(&l));
            let inverse = pivot.map(|pivot| 1.0 / pivot);
            factors[step] = inverse;
            let l = l.map(|l| times(&l, &inverse));
            factors[lower..lower + L].copy_from_slice(&l);
            factors[upper..upper + U].copy_from_slice(&u.map(|u| times(&u, &inverse)));
            for (l, targets) in l.iter().zip(targets) {
                for (u, &target) in u.iter().zip(targets) {
                    subtract(&mut factors[target as usize], l, u);
                }
            }
            (step, upper, lower) = (step + 1, upper + U, lower + L);
        }
        (self.step, self.upper, self.lower) = (step, upper, lower);
    }

    fn any(&mut self, watches: &[Watch], uppers: usize, lowers: usize) {
        for watch in watches {
            let factors = &mut *self.factors;
            let pivot = factors[self.step];
            let across = sum(&factors[self.upper..self.upper + uppers]);
            let down = sum(&factors[self.lower..self.lower + lowers]);
            judge(&mut self.fine, watch, &pivot, &across, &down);
            let inverse = pivot.map(|pivot| 1.0 / pivot);
            factors[self.step] = inverse;
            for at in self.lower..self.lower + lowers {
                let l = times(&factors[at], &inverse);
                factors[at] = l;
                let (now, later) = self.targets.split_at(uppers);
                self.targets = later;
                for (above, &target) in (self.upper..).zip(now) {
                    let u = factors[above];
                    subtract(&mut factors[target as usize], &l, &u);
                }
            }
            factors[self.upper..self.upper + uppers].iter_mut().for_each(|u| *u = times(u, &inverse));
            (self.step, self.upper, self.lower) = (self.step + 1, self.upper + uppers, self.lower + lowers);
        }
    }
}

fn eliminate_square(square: &mut [Lane], m: usize, watches: &[Watch], fine: &mut [u64; LANES]) {
    for k in 0..m {
        let (above, below) = square.split_at_mut((k + 1) * m);
        let row = &mut above[k * m..];
        let pivot = row[k];
        let mut down = [0.0; LANES];
        for other in below.chunks_exact(m) {
            (0..LANES).for_each(|lane| down[lane] += other[k][lane].abs());
        }
        judge(fine, &watches[k], &pivot, &sum(&row[k + 1..]), &down);
        let inverse = pivot.map(|pivot| 1.0 / pivot);
        row[k] = inverse;
        for other in below.chunks_exact_mut(m) {
            let l = times(&other[k], &inverse);
            other[k] = l;
            other[k + 1..].iter_mut().zip(&row[k + 1..]).for_each(|(value, u)| subtract(value, &l, u));
        }
    }
}

fn solve_square(square: &[Lane], m: usize, x: &mut [Lane]) {
    for i in 0..m {
        let mut y = x[i];
        (0..i).for_each(|j| subtract(&mut y, &square[i * m + j], &x[j]));
        x[i] = y;
    }
    for i in (0..m).rev() {
        let mut y = x[i];
        (i + 1..m).for_each(|j| subtract(&mut y, &square[i * m + j], &x[j]));
        x[i] = times(&y, &square[i * m + i]);
    }
}

/// Clears the lanes whose pivot is too weak; written so that a NaN fails.
#[inline(always)]
fn judge(fine: &mut [u64; LANES], watch: &Watch, pivot: &Lane, across: &Lane, down: &Lane) {
    for lane in 0..LANES {
        let (size, across, down) = (pivot[lane].abs(), across[lane], down[lane]);
        let least = if across < down { across } else { down };
        let good = size >= watch.part * least && across * down < watch.growth * size && size >= DROP * watch.seen;
        fine[lane] &= if good { !0 } else { 0 };
    }
}

#[inline(always)]
fn subtract(target: &mut Lane, l: &Lane, u: &Lane) {
    for lane in 0..LANES {
        target[lane] -= l[lane] * u[lane];
    }
}

#[inline(always)]
fn times(a: &Lane, b: &Lane) -> Lane {
    std::array::from_fn(|lane| a[lane] * b[lane])
}

/// Sums of the sizes.
#[inline(always)]
fn sum(values: &[Lane]) -> Lane {
    values.iter().fold([0.0; LANES], |sums, value| std::array::from_fn(|lane| sums[lane] + value[lane].abs()))
}
