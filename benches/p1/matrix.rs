//! Matrices of the problem, for the linear kernel alone.

use stallpoint_solve::sparse::{Lu, Pattern};
use stallpoint_solve::{Evaluation, SolveError, System};

use super::parameters::Variant;
use super::run::rest;
use super::unknowns::N;

/// Factors `c` of `dq + c df`: steps of about 0.3 ms and 0.6 ms.
pub const VALUES: [f64; 2] = [1e-4, 2e-4];

/// The matrix of P1 at rest for two steps, and factors of it.
pub struct Matrices {
    pub pattern: Pattern,
    pub values: [Vec<f64>; 2],
    pub right: [f64; N],
    pub lu: Lu,
}

impl Matrices {
    pub fn new() -> Result<Self, SolveError> {
        let (mut drive, x) = rest(Variant::P1)?;
        let pattern = drive.pattern().clone();
        let mut at = Evaluation::new(N, pattern.nonzeros());
        drive.evaluate(0.0, &x, true, &mut at);
        let values = VALUES.map(|c| {
            let entry = |(row, _, slot): (usize, usize, usize)| {
                if drive.differential()[row] { at.dq[slot] + c * at.df[slot] } else { at.df[slot] }
            };
            pattern.entries().map(entry).collect::<Vec<_>>()
        });
        let right = std::array::from_fn(|i| 1.0 + i as f64);
        let mut lu = Lu::new(&pattern).expect("P1 can be solved");
        lu.factor(&values[0]).expect("P1 is regular");
        Ok(Self { pattern, values, right, lu })
    }

    /// One numeric factorisation and one solution; `turn` chooses the matrix.
    pub fn refactor_and_solve(&mut self, turn: usize) -> [f64; N] {
        self.lu.factor(&self.values[turn % 2]).expect("P1 is regular");
        let mut b = self.right;
        self.lu.solve(&mut b);
        b
    }
}
