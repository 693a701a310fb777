//! The size of an error that counts as one.

use crate::options::Options;
use crate::system::System;

/// Errors of algebraic unknowns below this part of their scale are not held against a step: rounding of a large flow is a
/// large difference over the leak that is left of a cut. They do not build up, since each stage solves for them anew.
const ALGEBRAIC: f64 = 1e-8;

/// Error weights: an error of unknown `i` counts as one when it equals `max(rtol · |x_i|, atol_i)`.
pub(crate) struct Weights {
    rtol: f64,
    atol: Vec<f64>,
    /// As `atol`, for the error of a step.
    error_atol: Vec<f64>,
}

impl Weights {
    pub(crate) fn new(system: &impl System, options: &Options) -> Self {
        let rtol = options.rtol;
        let atol = |rtol: f64, scale: &f64| rtol * scale * options.atol_factor;
        let least = |&differential: &bool| if differential { rtol } else { rtol.max(ALGEBRAIC) };
        let rows = system.scale().iter().zip(system.differential());
        Self {
            rtol,
            atol: system.scale().iter().map(|scale| atol(rtol, scale)).collect(),
            error_atol: rows.map(|(scale, differential)| atol(least(differential), scale)).collect(),
        }
    }

    /// Weight of unknown `i` at value `x`.
    pub(crate) fn at(&self, i: usize, x: f64) -> f64 {
        self.atol[i].max(self.rtol * x.abs())
    }

    /// Largest change in units of its weight. NaN counts as infinite.
    pub(crate) fn norm(&self, change: &[f64], x: &[f64], x_before: &[f64]) -> f64 {
        self.largest(&self.atol, change, x, x_before)
    }

    /// The same of the error of a step.
    pub(crate) fn error_norm(&self, error: &[f64], x: &[f64], x_before: &[f64]) -> f64 {
        self.largest(&self.error_atol, error, x, x_before)
    }

    /// The unknown that changes most, in units of its weight; one that is not a number before all.
    pub(crate) fn worst(&self, change: &[f64], x: &[f64]) -> usize {
        let size = |&i: &usize| {
            let size = (change[i] / self.at(i, x[i])).abs();
            if size.is_nan() { f64::INFINITY } else { size }
        };
        (0..x.len()).max_by(|i, j| size(i).total_cmp(&size(j)).then(j.cmp(i))).unwrap_or(0)
    }

    fn largest(&self, atol: &[f64], error: &[f64], x: &[f64], x_before: &[f64]) -> f64 {
        // In lanes, so that one maximum does not wait for the other. A NaN, over which a maximum passes, shows in the sum.
        const LANES: usize = 4;
        let (mut tops, mut sums) = ([0.0; LANES], [0.0; LANES]);
        let each = error.iter().zip(atol).zip(x).zip(x_before).enumerate();
        for (i, (((e, atol), x), before)) in each {
            let size = e.abs() / larger(*atol, self.rtol * larger(x.abs(), before.abs()));
            tops[i % LANES] = larger(tops[i % LANES], size);
            sums[i % LANES] += size;
        }
        if sums.iter().any(|sum: &f64| sum.is_nan()) { f64::INFINITY } else { tops.into_iter().fold(0.0, larger) }
    }
}

/// One instruction where `f64::max`, careful with NaN, takes several.
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_not_a_number_counts_as_infinite_wherever_it_stands() {
        let weights = Weights { rtol: 1e-3, atol: vec![1e-3; 3], error_atol: vec![1e-3; 3] };
        let x = [1.0, 10.0, 0.0];
        assert_eq!(weights.norm(&[1e-3, 2e-2, 0.0], &x, &x), 2.0);
        assert_eq!(weights.worst(&[1e-3, 2e-2, 0.0], &x), 1);
        for place in 0..3 {
            let mut error = [1e-3; 3];
            error[place] = f64::NAN;
            assert_eq!(weights.norm(&error, &x, &x), f64::INFINITY);
            assert_eq!(weights.worst(&error, &x), place);
        }
    }
}
