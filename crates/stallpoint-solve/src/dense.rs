//! Dense output of one step.

/// The part of a step that TR-BDF2 places between the ends: `2 - √2`.
pub const MIDDLE: f64 = 2.0 - std::f64::consts::SQRT_2;

/// One accepted step: the solution at its start, at the method's inner point and at its end.
///
/// Between them the solution is the parabola through the three points, whose error is below that of the step itself.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// Time at the start.
    pub t0: f64,
    /// Time at the end.
    pub t1: f64,
    /// Unknowns at the start.
    pub x0: &'a [f64],
    /// Unknowns at `t0 + MIDDLE · (t1 - t0)`.
    pub mid: &'a [f64],
    /// Unknowns at the end.
    pub x1: &'a [f64],
}

/// Weights of the three points at the fraction `theta` of a step.
pub fn weights(theta: f64) -> [f64; 3] {
    let c = MIDDLE;
    [(theta - c) * (theta - 1.0) / c, theta * (theta - 1.0) / (c * (c - 1.0)), theta * (theta - c) / (1.0 - c)]
}

/// Value at `theta` of the parabola through three points.
pub fn interpolate([y0, mid, y1]: [f64; 3], theta: f64) -> f64 {
    let [a, b, c] = weights(theta);
    a * y0 + b * mid + c * y1
}

/// Slope at the end, by fraction of the step, of the parabola through three points.
pub fn slope_at_end([y0, mid, y1]: [f64; 3]) -> f64 {
    let k = ((y1 - y0) - (mid - y0) / MIDDLE) / (1.0 - MIDDLE);
    (y1 - y0) + k
}

/// Where the parabola through three points has its extremum, when that lies inside the step.
pub fn extremum([y0, mid, y1]: [f64; 3]) -> Option<f64> {
    // y = y0 + s θ + k θ²
    let k = ((y1 - y0) - (mid - y0) / MIDDLE) / (1.0 - MIDDLE);
    let s = (y1 - y0) - k;
    let theta = -s / (2.0 * k);
    (theta > 0.0 && theta < 1.0).then_some(theta)
}

impl Step<'_> {
    /// Time at the fraction `theta`.
    pub fn time(&self, theta: f64) -> f64 {
        self.t0 + theta * (self.t1 - self.t0)
    }

    /// The three values of unknown `i`.
    pub fn points(&self, i: usize) -> [f64; 3] {
        [self.x0[i], self.mid[i], self.x1[i]]
    }

    /// Writes all unknowns at the fraction `theta`.
    pub fn sample(&self, theta: f64, out: &mut [f64]) {
        let [a, b, c] = weights(theta);
        for (i, value) in out.iter_mut().enumerate() {
            *value = a * self.x0[i] + b * self.mid[i] + c * self.x1[i];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_parabola_is_reproduced() {
        let y = |t: f64| 3.0 - 2.0 * t + 5.0 * t * t;
        let points = [y(0.0), y(MIDDLE), y(1.0)];
        for theta in [0.0, 0.1, 0.5, 0.9, 1.0] {
            assert!((interpolate(points, theta) - y(theta)).abs() < 1e-14);
        }
        assert!((extremum(points).unwrap() - 0.2).abs() < 1e-12);
        assert!((slope_at_end(points) - 8.0).abs() < 1e-12);
        assert_eq!(extremum([0.0, MIDDLE, 1.0]), None);
    }
}
