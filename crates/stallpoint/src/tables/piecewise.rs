//! Piecewise-linear curves.

/// A curve of straight pieces between points of rising x.
///
/// Outside its points the end pieces go on, so that a solver meets no corner there.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecewiseLinear {
    points: Vec<(f64, f64)>,
}

impl PiecewiseLinear {
    /// A curve through `points`; `None` unless there are two or more, all finite, with x strictly rising.
    pub fn new(points: Vec<(f64, f64)>) -> Option<Self> {
        let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        let rising = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        (points.len() >= 2 && finite && rising).then_some(Self { points })
    }

    /// The points.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// The value at `x`.
    pub fn value(&self, x: f64) -> f64 {
        let ((x0, y0), (x1, y1)) = self.piece(x);
        // From the nearer end, so that every point is met exactly.
        if x - x0 <= x1 - x { y0 + (x - x0) * ((y1 - y0) / (x1 - x0)) } else { y1 - (x1 - x) * ((y1 - y0) / (x1 - x0)) }
    }

    /// The slope at `x`; at a corner that of the piece to the right.
    pub fn slope(&self, x: f64) -> f64 {
        let ((x0, y0), (x1, y1)) = self.piece(x);
        (y1 - y0) / (x1 - x0)
    }

    fn piece(&self, x: f64) -> ((f64, f64), (f64, f64)) {
        let inner = &self.points[1..self.points.len() - 1];
        let left = inner.partition_point(|(corner, _)| *corner <= x);
        (self.points[left], self.points[left + 1])
    }
}
