//! Substitution along a schedule.

use super::arrange::Run;
use super::dense;
use super::schedule::Schedule;

impl Schedule {
    /// Replaces `b` by the solution; `b` has the length of the matrix.
    pub(super) fn solve(&mut self, b: &mut [f64]) {
        if self.left_counts.is_empty() {
            self.forward(b);
        } else {
            self.forward_by_rows(b);
        }
        let work = &mut self.work[..];
        if self.dense > 0 {
            dense::solve(&self.factors[self.dense_start..], self.dense, &mut work[self.sparse..]);
            let tail = self.pivot_columns[self.sparse..].iter().zip(&self.column_scales[self.sparse..]);
            for (x, (&column, scale)) in work[self.sparse..].iter().zip(tail) {
                b[column as usize] = x * scale;
            }
        }
        if self.left_counts.is_empty() {
            self.back(b);
        } else {
            self.back_by_rows(b);
        }
    }

    fn forward(&mut self, b: &[f64]) {
        let work = &mut self.work[..];
        for ((y, &row), scale) in work.iter_mut().zip(&self.pivot_rows).zip(&self.row_scales) {
            *y = b[row as usize] * scale;
        }
        let mut factors = &self.factors[self.lower_start..self.dense_start];
        let mut steps = &self.lower_steps[..];
        let mut step = 0;
        for run in &self.runs {
            let lowers = (run.shape.lower * run.count) as usize;
            let (here, rest) = (factors.split_at(lowers), steps.split_at(lowers));
            (factors, steps) = (here.1, rest.1);
            match run.shape.lower {
                0 => {}
                1 => forward::<1>(work, step, here.0, rest.0),
                2 => forward::<2>(work, step, here.0, rest.0),
                3 => forward::<3>(work, step, here.0, rest.0),
                _ => forward_any(work, step, run, here.0, rest.0),
            }
            step += run.count as usize;
        }
    }

    fn back(&mut self, b: &mut [f64]) {
        let work = &mut self.work[..];
        let mut factors = &self.factors[self.upper_start..self.lower_start];
        let mut steps = &self.upper_steps[..];
        let mut end = self.sparse;
        for run in self.runs.iter().rev() {
            let uppers = (run.shape.upper * run.count) as usize;
            let (rest, here) = (factors.split_at(factors.len() - uppers), steps.split_at(steps.len() - uppers));
            (factors, steps) = (rest.0, here.0);
            let start = end - run.count as usize;
            let mut back = Back {
                start,
                work,
                b,
                inverses: &self.factors[start..end],
                columns: &self.pivot_columns[start..end],
                scales: &self.column_scales[start..end],
            };
            match run.shape.upper {
                1 => back.go::<1>(rest.1, here.1),
                2 => back.go::<2>(rest.1, here.1),
                3 => back.go::<3>(rest.1, here.1),
                many => back.any(many as usize, rest.1, here.1),
            }
            end = start;
        }
    }

    fn forward_by_rows(&mut self, b: &[f64]) {
        let work = &mut self.work[..];
        let factors = &self.factors[..];
        let mut left = &self.left[..];
        let rows = self.pivot_rows.iter().zip(&self.row_scales).zip(&self.left_counts);
        for (step, ((&row, scale), &count)) in rows.enumerate() {
            let (here, rest) = left.split_at(count as usize);
            left = rest;
            let mut y = b[row as usize] * scale;
            for &(place, earlier) in here {
                y -= factors[place as usize] * work[earlier as usize];
            }
            work[step] = y;
        }
    }

    fn back_by_rows(&mut self, b: &mut [f64]) {
        let work = &mut self.work[..];
        let (mut factors, mut steps) = (&self.factors[self.upper_start..self.lower_start], &self.upper_steps[..]);
        let columns = self.pivot_columns.iter().zip(&self.column_scales);
        let pivots = self.factors[..self.sparse].iter().zip(&self.upper_counts).zip(columns);
        for (step, ((inverse, &count), (&column, scale))) in pivots.enumerate().rev() {
            let (front, upper) = factors.split_at(factors.len() - count as usize);
            let (steps_front, places) = steps.split_at(steps.len() - count as usize);
            let mut x = work[step] * inverse;
            for (u, &j) in upper.iter().zip(places) {
                x -= u * work[j as usize];
            }
            work[step] = x;
            b[column as usize] = x * scale;
            (factors, steps) = (front, steps_front);
        }
    }
}

fn forward<const L: usize>(work: &mut [f64], first: usize, factors: &[f64], steps: &[u32]) {
    let lines = factors.as_chunks::<L>().0.iter().zip(steps.as_chunks::<L>().0);
    for (step, (factors, steps)) in (first..).zip(lines) {
        let y = work[step];
        for k in 0..L {
            work[steps[k] as usize] -= factors[k] * y;
        }
    }
}

fn forward_any(work: &mut [f64], first: usize, run: &Run, factors: &[f64], steps: &[u32]) {
    let lower = run.shape.lower as usize;
    let lines = factors.chunks_exact(lower).zip(steps.chunks_exact(lower));
    for (step, (factors, steps)) in (first..).zip(lines) {
        let y = work[step];
        for (l, &step) in factors.iter().zip(steps) {
            work[step as usize] -= l * y;
        }
    }
}

/// A run of steps on the way back.
struct Back<'a> {
    start: usize,
    work: &'a mut [f64],
    b: &'a mut [f64],
    inverses: &'a [f64],
    columns: &'a [u32],
    scales: &'a [f64],
}

impl Back<'_> {
    fn go<const U: usize>(&mut self, factors: &[f64], steps: &[u32]) {
        let lines = factors.as_chunks::<U>().0.iter().zip(steps.as_chunks::<U>().0);
        let pivots = self.inverses.iter().zip(self.columns).zip(self.scales);
        for (at, ((factors, steps), ((inverse, &column), scale))) in lines.zip(pivots).enumerate().rev() {
            let mut x = self.work[self.start + at] * inverse;
            for k in 0..U {
                x -= factors[k] * self.work[steps[k] as usize];
            }
            self.work[self.start + at] = x;
            self.b[column as usize] = x * scale;
        }
    }

    fn any(&mut self, upper: usize, factors: &[f64], steps: &[u32]) {
        for at in (0..self.inverses.len()).rev() {
            let mut x = self.work[self.start + at] * self.inverses[at];
            let line = at * upper..(at + 1) * upper;
            for (u, &step) in factors[line.clone()].iter().zip(&steps[line]) {
                x -= u * self.work[step as usize];
            }
            self.work[self.start + at] = x;
            self.b[self.columns[at] as usize] = x * self.scales[at];
        }
    }
}
