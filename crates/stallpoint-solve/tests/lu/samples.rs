//! Matrices for the tests: trees with cross ties, ladders, and a small generator of numbers.

use stallpoint_solve::sparse::Pattern;

/// SplitMix64 (Steele, Lea and Flood 2014), constants from memory: numbers to test with, no more.
pub struct Random(pub u64);

impl Random {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.bits() % n as u64) as usize
    }

    /// Uniform in 0..1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Either sign, size spread evenly over the decades `10^low..10^high`.
    pub fn decades(&mut self, low: f64, high: f64) -> f64 {
        let sign = if self.bits() & 1 == 0 { 1.0 } else { -1.0 };
        sign * 10f64.powf(low + (high - low) * self.unit())
    }
}

/// Edges of a random tree on `n` points with `ties` more edges, each between two points at most 500
/// numbers apart: loops are local, as they are in wiring. Ties across the whole tree would make an
/// expander, whose factors are dense in any order.
pub fn edges(n: usize, ties: usize, random: &mut Random) -> Vec<(usize, usize)> {
    // Parents close by: long branches, as cables have, rather than a bush.
    let mut edges: Vec<_> = (1..n).map(|i| (i - 1 - random.below(i.min(4)), i)).collect();
    while edges.len() < n - 1 + ties {
        let a = random.below(n);
        let b = (a + random.below(500)) % n;
        if a != b {
            edges.push((a, b));
        }
    }
    edges
}

/// Pattern of the graph's Laplacian.
pub fn laplacian_pattern(n: usize, edges: &[(usize, usize)]) -> Pattern {
    let diagonal = (0..n).map(|i| (i, i));
    let sides = edges.iter().flat_map(|&(a, b)| [(a, b), (b, a)]);
    Pattern::from_entries(n, diagonal.chain(sides)).unwrap()
}

/// Weighted Laplacian with `ground` added to the diagonal.
pub fn laplacian(
    pattern: &Pattern,
    edges: &[(usize, usize)],
    weights: &[f64],
    ground: impl Fn(usize) -> f64,
) -> Vec<f64> {
    let mut values = vec![0.0; pattern.nonzeros()];
    let mut add = |i, j, v: f64| values[pattern.slot(i, j).unwrap()] += v;
    for (&(a, b), &w) in edges.iter().zip(weights) {
        add(a, a, w);
        add(b, b, w);
        add(a, b, -w);
        add(b, a, -w);
    }
    for i in 0..pattern.n() {
        add(i, i, ground(i));
    }
    values
}

/// A right-hand side.
pub fn some_vector(n: usize, random: &mut Random) -> Vec<f64> {
    (0..n).map(|_| 2.0 * random.unit() - 1.0).collect()
}

/// A wiring harness of about `size` unknowns: a tree of segments with resistance and inductance, each with its current, a
/// motor (current, speed) at every twelfth node, and cross ties for one node in fifty. A deep tree grows on near its last
/// nodes, a bushy one anywhere. All values invented.
pub struct Harness {
    pub pattern: Pattern,
    /// Row, column, constant part, part divided by the step.
    entries: Vec<(usize, usize, f64, f64)>,
}

impl Harness {
    pub fn new(size: usize, deep: bool, random: &mut Random) -> Self {
        let nodes = (size as f64 / 2.187).round() as usize;
        let mut segments = Vec::new();
        for node in 1..nodes {
            let parent = node - 1 - random.below(if deep { node.min(8) } else { node });
            let metres = 0.5 + 4.5 * random.unit();
            segments.push((parent, node, 0.6e-3 * metres, 0.6e-6 * metres));
        }
        for _ in 0..nodes / 50 {
            let from = random.below(nodes - 41);
            segments.push((from, from + 1 + random.below(40), 5e-3, 2e-6));
        }
        let motors: Vec<usize> = (6..nodes).step_by(12).collect();
        let mut entries = vec![(0, 0, 125.0, 0.0)];
        entries.extend((0..nodes).map(|node| (node, node, 1e-6, 0.0)));
        for (i, &(from, to, ohms, henries)) in (nodes..).zip(&segments) {
            entries.extend([(from, i, 1.0, 0.0), (to, i, -1.0, 0.0)]);
            entries.extend([(i, from, -1.0, 0.0), (i, to, 1.0, 0.0), (i, i, ohms, henries)]);
        }
        for (i, &node) in (nodes + segments.len()..).step_by(2).zip(&motors) {
            entries.extend([(node, i, 1.0, 0.0), (i, node, -1.0, 0.0), (i, i, 25e-3, 120e-6)]);
            entries.extend([(i, i + 1, 0.045, 0.0), (i + 1, i, -0.045, 0.0), (i + 1, i + 1, 2e-4, 0.004)]);
        }
        let n = nodes + segments.len() + 2 * motors.len();
        let pattern = Pattern::from_entries(n, entries.iter().map(|entry| (entry.0, entry.1))).unwrap();
        Self { pattern, entries }
    }

    /// The matrix of one step; each value of segments and motors off by up to `spread`, at random.
    pub fn values(&self, step: f64, spread: f64, random: &mut Random) -> Vec<f64> {
        let mut values = vec![0.0; self.pattern.nonzeros()];
        for &(row, column, constant, stored) in &self.entries {
            let off = if row == column { 1.0 + spread * (2.0 * random.unit() - 1.0) } else { 1.0 };
            values[self.pattern.slot(row, column).unwrap()] += off * (constant + stored / step);
        }
        values
    }
}
