//! A smooth curve through rising points that nowhere falls.

/// An odd curve through the origin and points of rising x and y, with a continuous slope, monotone between its points, and
/// straight beyond the last. Cubic pieces with weighted harmonic means of the neighbouring slopes.
///
/// Source: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MonotoneCurve {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
    /// Integral from zero to each point.
    area: Vec<f64>,
}

impl MonotoneCurve {
    /// A curve through the origin and `points`; none unless x rises, y does not fall and the first y is above zero.
    pub(super) fn new(points: &[(f64, f64)]) -> Option<Self> {
        let mut all = vec![(0.0, 0.0)];
        all.extend(points.iter().filter(|(x, y)| *x != 0.0 || *y != 0.0));
        let sound = all.windows(2).all(|pair| {
            pair[1].0.is_finite() && pair[1].1.is_finite() && pair[1].0 > pair[0].0 && pair[1].1 >= pair[0].1
        });
        if all.len() < 2 || !sound || all[1].1 <= 0.0 {
            return None;
        }
        let (x, y): (Vec<f64>, Vec<f64>) = all.into_iter().unzip();
        let last = x.len() - 1;
        let width = |k: usize| x[k + 1] - x[k];
        let secant = |k: usize| (y[k + 1] - y[k]) / width(k);
        // At the origin the mirrored piece has the same secant; at the end the last one goes on.
        let mut slope = vec![secant(0); last + 1];
        slope[last] = secant(last - 1);
        for k in 1..last {
            let (below, above) = (secant(k - 1), secant(k));
            let (w1, w2) = (2.0 * width(k) + width(k - 1), width(k) + 2.0 * width(k - 1));
            slope[k] = if below <= 0.0 || above <= 0.0 { 0.0 } else { (w1 + w2) / (w1 / below + w2 / above) };
        }
        let mut area = vec![0.0; last + 1];
        for k in 0..last {
            let h = width(k);
            area[k + 1] = area[k] + h * (0.5 * (y[k] + y[k + 1]) + h * (slope[k] - slope[k + 1]) / 12.0);
        }
        Some(Self { x, y, slope, area })
    }

    /// The last x.
    pub(super) fn end(&self) -> f64 {
        self.x[self.x.len() - 1]
    }

    /// Value, slope and integral from zero at `x`; the integral is even.
    pub(super) fn at(&self, x: f64) -> (f64, f64, f64) {
        let size = x.abs();
        let last = self.x.len() - 1;
        let k = self.x.partition_point(|&corner| corner <= size).saturating_sub(1);
        let s = size - self.x[k];
        let (y0, m0, area) = (self.y[k], self.slope[k], self.area[k]);
        let (value, slope, integral) = if k == last {
            (y0 + m0 * s, m0, area + s * (y0 + 0.5 * m0 * s))
        } else {
            let h = self.x[k + 1] - self.x[k];
            let secant = (self.y[k + 1] - y0) / h;
            let m1 = self.slope[k + 1];
            let (c2, c3) = ((3.0 * secant - 2.0 * m0 - m1) / h, (m0 + m1 - 2.0 * secant) / (h * h));
            (
                y0 + s * (m0 + s * (c2 + s * c3)),
                m0 + s * (2.0 * c2 + s * 3.0 * c3),
                area + s * (y0 + s * (0.5 * m0 + s * (c2 / 3.0 + s * 0.25 * c3))),
            )
        };
        (if x < 0.0 { -value } else { value }, slope, integral)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve() -> MonotoneCurve {
        MonotoneCurve::new(&[(1.0, 2.0), (2.0, 3.5), (3.0, 4.0), (5.0, 4.0), (6.0, 4.5)]).unwrap()
    }

    #[test]
    fn exact_points_oddness_and_a_straight_line() {
        let own = curve();
        for (x, y) in [(1.0, 2.0), (2.0, 3.5), (3.0, 4.0), (4.0, 4.0), (6.0, 4.5), (8.0, 5.5)] {
            assert!((own.at(x).0 - y).abs() < 1e-12, "{x}: {:?}", own.at(x));
            assert_eq!(own.at(-x).0, -own.at(x).0);
            assert_eq!(own.at(-x).1, own.at(x).1);
        }
        let line = MonotoneCurve::new(&[(2.0, 3.0), (4.0, 6.0)]).unwrap();
        for x in [-5.0, -1.0, 0.0, 0.3, 3.7, 9.0] {
            let (y, slope, area) = line.at(x);
            assert!((y - 1.5 * x).abs() < 1e-12 && (slope - 1.5).abs() < 1e-12 && (area - 0.75 * x * x).abs() < 1e-12);
        }
    }

    #[test]
    fn prop_it_never_falls_and_slope_and_integral_belong_to_it() {
        let own = curve();
        let h = 1e-5;
        for k in 0..700 {
            let x = 0.01 * f64::from(k) + 0.003;
            let (y, slope, area) = own.at(x);
            let (above, below) = (own.at(x + h), own.at(x - h));
            assert!(slope >= 0.0);
            assert!(((above.0 - below.0) / (2.0 * h) - slope).abs() < 1e-4, "{x}");
            assert!(((above.2 - below.2) / (2.0 * h) - y).abs() < 1e-8, "{x}");
            assert!(area >= 0.0);
        }
    }

    #[test]
    fn exact_curves_that_fall_or_turn_back_are_refused() {
        assert!(MonotoneCurve::new(&[(1.0, 2.0), (2.0, 1.0)]).is_none());
        assert!(MonotoneCurve::new(&[(2.0, 2.0), (1.0, 3.0)]).is_none());
        assert!(MonotoneCurve::new(&[(0.0, 1.0), (1.0, 3.0)]).is_none());
        assert!(MonotoneCurve::new(&[]).is_none());
    }
}
