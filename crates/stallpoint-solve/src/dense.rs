//! Dense output of one step.

/// One accepted step: the solution at both ends, and how it bends between them.
///
/// With `θ` from 0 to 1 the solution is
///
/// ```text
/// x(θ) = x0 + θ (x1 - x0) + θ (1 - θ) (k1 + θ k2 + θ² k3)
/// ```
///
/// with as many `k` as the method gives: one for TR-BDF2, three for the Rosenbrock method.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// Time at the start.
    pub t0: f64,
    /// Time at the end.
    pub t1: f64,
    /// Unknowns at the start.
    pub x0: &'a [f64],
    /// Unknowns at the end.
    pub x1: &'a [f64],
    /// The coefficients `k`, all of `k1` first: a multiple of the number of unknowns.
    pub bend: &'a [f64],
}

impl Step<'_> {
    /// Time at the fraction `theta`.
    pub fn time(&self, theta: f64) -> f64 {
        self.t0 + theta * (self.t1 - self.t0)
    }

    /// Unknown `i` at the fraction `theta`.
    pub fn value(&self, i: usize, theta: f64) -> f64 {
        let n = self.x0.len();
        let mut bend = 0.0;
        for k in (0..self.bend.len() / n.max(1)).rev() {
            bend = bend * theta + self.bend[k * n + i];
        }
        self.x0[i] + theta * (self.x1[i] - self.x0[i]) + theta * (1.0 - theta) * bend
    }

    /// Writes all unknowns at the fraction `theta`.
    pub fn sample(&self, theta: f64, out: &mut [f64]) {
        let n = self.x0.len();
        for ((value, x0), x1) in out.iter_mut().zip(self.x0).zip(self.x1) {
            *value = x0 + theta * (x1 - x0);
        }
        let mut weight = theta * (1.0 - theta);
        for k in self.bend.chunks_exact(n.max(1)) {
            for (value, k) in out.iter_mut().zip(k) {
                *value += weight * k;
            }
            weight *= theta;
        }
    }
}

/// Fractions of a step at which a function of the solution is looked at to find where it turns.
pub const LOOKS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Where a function known at [`LOOKS`] turns within the step, by the parabolas through three looks next to each other
/// (exact where the function is a parabola), and its value there by them.
pub fn turns(values: [f64; 5]) -> impl Iterator<Item = (f64, f64)> {
    (0..3).filter_map(move |first| {
        let [a, b, c] = [values[first], values[first + 1], values[first + 2]];
        // y = b + s u + k u², u = -1 … 1 from the first to the third look
        let (s, k) = (0.5 * (c - a), 0.5 * (a + c) - b);
        let u = -s / (2.0 * k);
        // Each parabola answers for its middle; the outer two also for the ends of the step.
        let low = if first == 0 { -1.0 } else { -0.5 };
        let high = if first == 2 { 1.0 } else { 0.5 };
        (u > low && u < high).then(|| (LOOKS[first + 1] + 0.25 * u, b + u * (s + k * u)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_polynomial_is_reproduced() {
        // x(θ) = 1 + 2θ + θ(1-θ)(3 + θ - 2θ²), and a constant beside it
        let (x0, x1, bend) = ([1.0, 7.0], [3.0, 7.0], [3.0, 0.0, 1.0, 0.0, -2.0, 0.0]);
        let step = Step { t0: 0.0, t1: 2.0, x0: &x0, x1: &x1, bend: &bend };
        for theta in [0.0, 0.1, 0.5, 0.9, 1.0] {
            let exact = 1.0 + 2.0 * theta + theta * (1.0 - theta) * (3.0 + theta - 2.0 * theta * theta);
            let mut all = [0.0; 2];
            step.sample(theta, &mut all);
            assert!((all[0] - exact).abs() < 1e-14 && (step.value(0, theta) - exact).abs() < 1e-14);
            assert_eq!(all[1], 7.0);
        }
        assert_eq!(step.time(0.5), 1.0);
    }

    #[test]
    fn exact_turn_of_a_parabola() {
        for top in [0.05, 0.2, 0.4, 0.5, 0.6, 0.97] {
            let values = LOOKS.map(|theta| 2.0 - (theta - top) * (theta - top));
            let found: Vec<_> = turns(values).collect();
            assert!(!found.is_empty(), "{top}");
            for (theta, value) in found {
                assert!((theta - top).abs() < 1e-12 && (value - 2.0).abs() < 1e-12);
            }
        }
        assert_eq!(turns(LOOKS).count(), 0);
    }
}
