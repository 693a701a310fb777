//! Small problems for the solver: a model writes `q` and `f`, the harness makes a dense system of it.

use stallpoint_solve::sparse::Pattern;
use stallpoint_solve::{Cause, Ended, Evaluation, Flow, Observer, Options, SolveError, Step, System, integrate};

/// `d/dt q(x) + f(t, x) = 0` in a few unknowns.
pub trait Model: Clone {
    /// Which rows have a `q`.
    fn differential(&self) -> Vec<bool>;

    /// Writes `q` and `f`, both zeroed before.
    fn equations(&self, t: f64, x: &[f64], q: &mut [f64], f: &mut [f64]);

    /// Sizes that matter.
    fn scale(&self) -> Vec<f64> {
        vec![1.0; self.differential().len()]
    }

    fn guard_count(&self) -> usize {
        0
    }

    fn guards(&self, _t: f64, _x: &[f64], _out: &mut [f64]) {}

    fn next_stop(&self) -> Option<f64> {
        None
    }

    fn fire(&mut self, _cause: Cause, _t: f64, _x: &mut [f64]) {}
}

/// A model as a system: a full pattern, derivatives by central differences (exact for squares, 1e-9 otherwise).
#[derive(Clone)]
pub struct Problem<M> {
    pub model: M,
    pattern: Pattern,
    differential: Vec<bool>,
    scale: Vec<f64>,
}

impl<M: Model> Problem<M> {
    pub fn new(model: M) -> Self {
        let differential = model.differential();
        let n = differential.len();
        let all = (0..n).flat_map(|row| (0..n).map(move |column| (row, column)));
        let pattern = Pattern::from_entries(n, all).unwrap();
        let scale = model.scale();
        Self { model, pattern, differential, scale }
    }

    /// Runs over `span` from `x`, keeping every step.
    pub fn run(&mut self, span: (f64, f64), x: &[f64], options: &Options) -> Result<Record, SolveError> {
        let mut record = Record { x: x.to_vec(), ..Record::default() };
        let mut last = x.to_vec();
        let ended = integrate(self, span, &mut last, options, &mut record);
        record.x = last;
        record.ended = Some(ended?);
        Ok(record)
    }
}

/// Default options with another tolerance.
pub fn rtol(rtol: f64) -> Options {
    Options { rtol, ..Options::default() }
}

impl<M: Model> System for Problem<M> {
    fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    fn differential(&self) -> &[bool] {
        &self.differential
    }

    fn scale(&self) -> &[f64] {
        &self.scale
    }

    fn evaluate(&mut self, t: f64, x: &[f64], jacobian: bool, out: &mut Evaluation) {
        self.model.equations(t, x, &mut out.q, &mut out.f);
        if !jacobian {
            return;
        }
        let n = x.len();
        let mut moved = x.to_vec();
        for column in 0..n {
            let by = 1e-5 * x[column].abs().max(1e-3 * self.scale[column]);
            let mut sides = [Evaluation::new(n, 0), Evaluation::new(n, 0)];
            for (side, sign) in sides.iter_mut().zip([1.0, -1.0]) {
                moved[column] = x[column] + sign * by;
                self.model.equations(t, &moved, &mut side.q, &mut side.f);
            }
            moved[column] = x[column];
            for row in 0..n {
                let slot = self.pattern.slot(row, column).unwrap();
                out.dq[slot] = (sides[0].q[row] - sides[1].q[row]) / (2.0 * by);
                out.df[slot] = (sides[0].f[row] - sides[1].f[row]) / (2.0 * by);
            }
        }
    }

    fn guard_count(&self) -> usize {
        self.model.guard_count()
    }

    fn guards(&mut self, t: f64, x: &[f64], out: &mut [f64]) {
        self.model.guards(t, x, out);
    }

    fn next_stop(&self) -> Option<f64> {
        self.model.next_stop()
    }

    fn fire(&mut self, cause: Cause, t: f64, x: &mut [f64]) {
        self.model.fire(cause, t, x);
    }
}

/// One step kept whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    pub t0: f64,
    pub t1: f64,
    pub x0: Vec<f64>,
    pub x1: Vec<f64>,
    pub bend: Vec<f64>,
}

impl Kept {
    pub fn sample(&self, theta: f64) -> Vec<f64> {
        let step = Step { t0: self.t0, t1: self.t1, x0: &self.x0, x1: &self.x1, bend: &self.bend };
        let mut out = self.x0.clone();
        step.sample(theta, &mut out);
        out
    }
}

/// What an observer saw.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Record {
    pub steps: Vec<Kept>,
    /// Time and values after each jump.
    pub jumps: Vec<(f64, Vec<f64>)>,
    /// Values at the end.
    pub x: Vec<f64>,
    pub ended: Option<Ended>,
}

impl<S> Observer<S> for Record {
    fn step(&mut self, _system: &S, step: &Step) -> Flow {
        self.steps.push(Kept {
            t0: step.t0,
            t1: step.t1,
            x0: step.x0.to_vec(),
            x1: step.x1.to_vec(),
            bend: step.bend.to_vec(),
        });
        Flow::Continue
    }

    fn jump(&mut self, _system: &S, t: f64, x: &[f64]) -> Flow {
        self.jumps.push((t, x.to_vec()));
        Flow::Continue
    }
}

/// A small repeatable source of numbers in 0..1 (xorshift; Marsaglia, J. Stat. Softw. 8 (2003) 14).
pub struct Numbers(pub u64);

impl Numbers {
    pub fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}
