//! Linear heat flow in one body or two, in closed form.

/// A value for each of two bodies. A body alone has an idle second.
pub type Pair = [f64; 2];

/// `dx/dt = a x + b` with constant coefficients: one body, or two that exchange heat.
///
/// ```text
/// x(t) = e^(a t) x(0) + ∫₀ᵗ e^(a s) ds b
/// ```
/// The exponential is that of a matrix with two real eigenvalues, as bodies that exchange heat have.
///
/// # Example
/// ```
/// use stallpoint::studies::duty::LinearFlow;
///
/// // 400 J/K, 0.5 K/W, 100 W above an ambient of 20 °C: it settles at 70 °C with a time constant of 200 s.
/// let heated = LinearFlow::one(1.0 / 200.0, 100.0 / 400.0 + 20.0 / 200.0);
/// let after = heated.after([20.0, 0.0], 200.0)[0];
/// assert!((after - (70.0 - 50.0 * (-1.0_f64).exp())).abs() < 1e-12);
/// assert_eq!(heated.settled().map(|x| x[0].round()), Some(70.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinearFlow {
    /// Coefficients, 1/s.
    pub a: [Pair; 2],
    /// Sources, per second.
    pub b: Pair,
}

/// Exponents beyond which a value counts as infinite.
const HUGE: f64 = 500.0;

impl LinearFlow {
    /// One body: `dx/dt = source - decay · x`.
    pub fn one(decay: f64, source: f64) -> Self {
        Self { a: [[-decay, 0.0], [0.0, -1.0]], b: [source, 0.0] }
    }

    /// Eigenvalues, the larger first.
    fn eigenvalues(&self) -> Pair {
        let [[a, b], [c, d]] = self.a;
        if b == 0.0 && c == 0.0 {
            return [a.max(d), a.min(d)];
        }
        let middle = 0.5 * (a + d);
        let apart = (0.25 * (a - d) * (a - d) + b * c).max(0.0).sqrt();
        [middle + apart, middle - apart]
    }

    /// `x(t) = m x(0) + c`.
    pub(super) fn map(&self, t: f64) -> Map {
        let [[a11, a12], [a21, a22]] = self.a;
        if a12 == 0.0 && a21 == 0.0 {
            let m = [[(a11 * t).exp(), 0.0], [0.0, (a22 * t).exp()]];
            return Map { m, c: [grown(a11, t) * self.b[0], grown(a22, t) * self.b[1]] };
        }
        let [l1, l2] = self.eigenvalues();
        // f(a) = (f(l1) (a - l2) - f(l2) (a - l1)) / (l1 - l2)
        let of = |f1: f64, f2: f64| {
            let (p, q) = (f1 / (l1 - l2), f2 / (l1 - l2));
            let diagonal = q * l1 - p * l2;
            [[(p - q) * a11 + diagonal, (p - q) * a12], [(p - q) * a21, (p - q) * a22 + diagonal]]
        };
        let m = of((l1 * t).exp(), (l2 * t).exp());
        let s = of(grown(l1, t), grown(l2, t));
        let c = [s[0][0] * self.b[0] + s[0][1] * self.b[1], s[1][0] * self.b[0] + s[1][1] * self.b[1]];
        Map { m, c }
    }

    /// The values a time later; infinite where they grow beyond all bounds.
    pub fn after(&self, x: Pair, t: f64) -> Pair {
        if t == f64::INFINITY {
            return self.settled().unwrap_or([f64::INFINITY; 2]);
        }
        if self.eigenvalues()[0] * t > HUGE || !x[0].is_finite() {
            return [f64::INFINITY; 2];
        }
        self.map(t).of(x)
    }

    /// Rates of change, per second.
    pub fn rate(&self, x: Pair) -> Pair {
        let [p, q] = self.a;
        [p[0] * x[0] + p[1] * x[1] + self.b[0], q[0] * x[0] + q[1] * x[1] + self.b[1]]
    }

    /// Where the values settle; none when they grow for ever.
    pub fn settled(&self) -> Option<Pair> {
        if !(self.eigenvalues()[0] < 0.0) {
            // What neither decays nor is fed stays; that is only known from where it was.
            return None;
        }
        let [[a, b], [c, d]] = self.a;
        let determinant = a * d - b * c;
        Some([(b * self.b[1] - d * self.b[0]) / determinant, (c * self.b[0] - a * self.b[1]) / determinant])
    }

    /// The mean over a time; infinite where the values grow beyond all bounds.
    pub fn mean(&self, x: Pair, t: f64) -> Pair {
        if t == f64::INFINITY {
            return self.after(x, t);
        }
        let end = self.after(x, t);
        if !end[0].is_finite() {
            return end;
        }
        let left = [0, 1].map(|k| (end[k] - x[k]) / t - self.b[k]); // a times the mean
        let [[a, b], [c, d]] = self.a;
        if b == 0.0 && c == 0.0 {
            let alone = |k: usize, a: f64| if a == 0.0 { 0.5 * (x[k] + end[k]) } else { left[k] / a };
            return [alone(0, a), alone(1, d)];
        }
        let determinant = a * d - b * c;
        [(d * left[0] - b * left[1]) / determinant, (a * left[1] - c * left[0]) / determinant]
    }

    /// The highest value of a body within a time, and when.
    pub fn highest(&self, body: usize, x: Pair, t: f64) -> (f64, f64) {
        let end = self.after(x, t);
        let ends = if end[body] > x[body] { (end[body], t) } else { (x[body], 0.0) };
        // Two exponentials have one turn at most.
        if !(t.is_finite() && end[body].is_finite() && self.rate(x)[body] > 0.0 && self.rate(end)[body] < 0.0) {
            return ends;
        }
        let (mut low, mut high) = (0.0, t);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if self.rate(self.after(x, middle))[body] > 0.0 { low = middle } else { high = middle }
        }
        (self.after(x, low)[body], low)
    }

    /// When a body first reaches a limit from below, s; none when it does not within the time.
    pub fn reaches(&self, body: usize, x: Pair, limit: f64, t: f64) -> Option<f64> {
        if x[body] >= limit {
            return Some(0.0);
        }
        let mut high = if t.is_finite() {
            let (value, at) = self.highest(body, x, t);
            if value < limit {
                return None;
            }
            at
        } else {
            let top = self.after(x, t)[body];
            if !(top > limit) {
                return None;
            }
            let mut high = 1.0;
            while self.after(x, high)[body] < limit {
                high *= 2.0;
            }
            high
        };
        let mut low = 0.0;
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if self.after(x, middle)[body] < limit { low = middle } else { high = middle }
        }
        Some(high)
    }
}

/// `(e^(l t) - 1) / l`.
fn grown(l: f64, t: f64) -> f64 {
    if l == 0.0 { t } else { (l * t).exp_m1() / l }
}

/// `x → m x + c`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Map {
    m: [Pair; 2],
    c: Pair,
}

impl Map {
    /// Leaves all as it is.
    pub(super) fn identity() -> Self {
        Self { m: [[1.0, 0.0], [0.0, 1.0]], c: [0.0; 2] }
    }

    pub(super) fn of(&self, x: Pair) -> Pair {
        let [p, q] = self.m;
        [p[0] * x[0] + p[1] * x[1] + self.c[0], q[0] * x[0] + q[1] * x[1] + self.c[1]]
    }

    /// This after another.
    pub(super) fn after(&self, first: &Self) -> Self {
        let row = |r: Pair| [r[0] * first.m[0][0] + r[1] * first.m[1][0], r[0] * first.m[0][1] + r[1] * first.m[1][1]];
        Self { m: self.m.map(row), c: self.of(first.c) }
    }

    /// What it leaves as it is; none when repeating it grows for ever.
    pub(super) fn fixed(&self) -> Option<Pair> {
        let [[a, b], [c, d]] = self.m;
        let (trace, determinant) = (a + d, a * d - b * c);
        if !(trace.abs() < 1.0 + determinant && determinant < 1.0) {
            return None;
        }
        let whole = (1.0 - a) * (1.0 - d) - b * c;
        let x = [((1.0 - d) * self.c[0] + b * self.c[1]) / whole, (c * self.c[0] + (1.0 - a) * self.c[1]) / whole];
        x.iter().all(|x| x.is_finite()).then_some(x)
    }
}
