//! The harness as a system: a tree of cables with cross ties, up to 100 motors spread over it, fed through one contact.

use stallpoint_solve::sparse::Pattern;
use stallpoint_solve::{Cause, Evaluation, System};

const VOLTS: f64 = 12.6;
/// Conductance of the feed's contact, closed and open, S.
const CLOSED: f64 = 2e3;
const OPEN: f64 = 1e-6;
const CLOSES_AT: f64 = 0.01;
/// Leak of each node, S.
const LEAK: f64 = 1e-6;
const OHMS_PER_METRE: f64 = 0.6e-3;
const HENRIES_PER_METRE: f64 = 0.6e-6;
/// A motor: Ω, H, V·s, kg·m², N·m·s, N·m, rad/s.
const R: f64 = 2.5;
const L: f64 = 12e-3;
const K: f64 = 0.045;
const J: f64 = 4e-5;
const B: f64 = 2e-6;
const LOAD: f64 = 0.03;
const LOAD_SPEED: f64 = 0.5;
const MOST_MOTORS: usize = 100;

/// A cable between two nodes; its unknown is the current.
struct Segment {
    from: usize,
    to: usize,
    ohms: f64,
    henries: f64,
}

/// Unknowns: node voltages, cable currents, then current and speed of each motor.
pub struct Harness {
    nodes: usize,
    segments: Vec<Segment>,
    motors: Vec<usize>,
    pattern: Pattern,
    differential: Vec<bool>,
    scale: Vec<f64>,
    /// Constant entries, and where those that change are.
    df: Vec<f64>,
    dq: Vec<f64>,
    feed: usize,
    loads: Vec<usize>,
    closed: bool,
}

impl Harness {
    /// A tree of about so many unknowns whose branches grow anywhere; one node in fifty has a second way, to the node three
    /// before it.
    pub fn new(size: usize) -> Self {
        let mut dice = 0x9E37_79B9_7F4A_7C15_u64;
        let mut below = |n: usize| {
            dice ^= dice << 13;
            dice ^= dice >> 7;
            dice ^= dice << 17;
            (dice >> 11) as usize % n
        };
        let nodes = (size as f64 / (2.0 + 0.02)).round() as usize;
        let mut segments = Vec::new();
        let mut join = |from: usize, to: usize, metres: f64| {
            segments.push(Segment { from, to, ohms: OHMS_PER_METRE * metres, henries: HENRIES_PER_METRE * metres });
        };
        let mut parents = vec![0];
        for node in 1..nodes {
            let parent = below(node);
            parents.push(parent);
            join(parent, node, 0.5 + 0.045 * below(100) as f64);
        }
        for _ in 0..nodes / 50 {
            let node = below(nodes);
            let before = parents[parents[parents[node]]];
            if before != node {
                join(before, node, 5.0);
            }
        }
        let count = MOST_MOTORS.min(nodes / 12);
        let motors: Vec<usize> = (1..=count).map(|k| k * (nodes - 1) / count).collect();
        let mut entries = vec![(0, 0, 0.0, 0.0)];
        entries.extend((0..nodes).map(|node| (node, node, LEAK, 0.0)));
        for (i, segment) in (nodes..).zip(&segments) {
            let &Segment { from, to, ohms, henries } = segment;
            entries.extend([(from, i, 1.0, 0.0), (to, i, -1.0, 0.0), (i, from, -1.0, 0.0), (i, to, 1.0, 0.0)]);
            entries.push((i, i, ohms, henries));
        }
        let first = nodes + segments.len();
        for (k, &node) in motors.iter().enumerate() {
            let (i, speed) = (first + 2 * k, first + 2 * k + 1);
            entries.extend([(node, i, 1.0, 0.0), (i, node, -1.0, 0.0), (i, i, R, L), (i, speed, K, 0.0)]);
            entries.extend([(speed, i, -K, 0.0), (speed, speed, B, J)]);
        }
        let n = first + 2 * motors.len();
        let pattern = Pattern::from_entries(n, entries.iter().map(|entry| (entry.0, entry.1))).expect("places below n");
        let slot = |row, column| pattern.slot(row, column).expect("a place of the pattern");
        let (mut df, mut dq) = (vec![0.0; pattern.nonzeros()], vec![0.0; pattern.nonzeros()]);
        for &(row, column, flow, content) in &entries {
            df[slot(row, column)] += flow;
            dq[slot(row, column)] += content;
        }
        let loads = (0..motors.len()).map(|k| slot(first + 2 * k + 1, first + 2 * k + 1)).collect();
        Self {
            feed: slot(0, 0),
            differential: (0..n).map(|i| i >= nodes).collect(),
            scale: vec![1.0; n],
            nodes,
            segments,
            motors,
            pattern,
            df,
            dq,
            loads,
            closed: false,
        }
    }

    pub fn unknowns(&self) -> usize {
        self.pattern.n()
    }

    pub fn entries(&self) -> usize {
        self.pattern.nonzeros()
    }

    pub fn motors(&self) -> usize {
        self.motors.len()
    }

    /// Current of the feed, A.
    pub fn feed(&self, x: &[f64]) -> f64 {
        self.conductance() * (VOLTS - x[0])
    }

    /// Speed of the slowest motor, rad/s.
    pub fn slowest(&self, x: &[f64]) -> f64 {
        let first = self.nodes + self.segments.len();
        x[first..].chunks(2).map(|motor| motor[1]).fold(f64::INFINITY, f64::min)
    }

    fn conductance(&self) -> f64 {
        if self.closed { CLOSED } else { OPEN }
    }
}

impl System for Harness {
    fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    fn differential(&self) -> &[bool] {
        &self.differential
    }

    fn scale(&self) -> &[f64] {
        &self.scale
    }

    fn evaluate(&mut self, _t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation) {
        let (f, q) = (&mut out.f, &mut out.q);
        f[..self.nodes].iter_mut().zip(x).for_each(|(f, v)| *f = LEAK * v);
        f[0] -= self.feed(x);
        for (i, segment) in (self.nodes..).zip(&self.segments) {
            let current = x[i];
            f[segment.from] += current;
            f[segment.to] -= current;
            f[i] = segment.ohms * current - x[segment.from] + x[segment.to];
            q[i] = segment.henries * current;
        }
        if jacobian {
            out.df.copy_from_slice(&self.df);
            out.dq.copy_from_slice(&self.dq);
            out.df[self.feed] += self.conductance();
        }
        let first = self.nodes + self.segments.len();
        for (k, &node) in self.motors.iter().enumerate() {
            let (i, speed) = (first + 2 * k, first + 2 * k + 1);
            let load = (x[speed] / LOAD_SPEED).tanh();
            f[node] += x[i];
            f[i] = R * x[i] + K * x[speed] - x[node];
            f[speed] = B * x[speed] + LOAD * load - K * x[i];
            (q[i], q[speed]) = (L * x[i], J * x[speed]);
            if jacobian {
                out.df[self.loads[k]] += LOAD / LOAD_SPEED * (1.0 - load * load);
            }
        }
    }

    fn next_stop(&self) -> Option<f64> {
        (!self.closed).then_some(CLOSES_AT)
    }

    fn fire(&mut self, _cause: Cause, _t: f64, _x: &mut [f64]) {
        self.closed = true;
    }
}
