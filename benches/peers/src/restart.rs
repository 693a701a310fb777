//! Consistent values after an event, for peers that have no way of their own: tiny implicit Euler steps with full Newton.

use stallpoint_solve::sparse::Lu;
use stallpoint_solve::{Cause, Evaluation, System};

use crate::p1::Drive;
use crate::p1::unknowns::{N, U1};

/// What a peer's restart needs, allocated once.
pub struct Restart {
    lu: Lu,
    at: Evaluation,
    matrix: Vec<f64>,
    guards: Vec<f64>,
    rtol: f64,
    /// First of three steps, each ten times the last.
    first: f64,
}

impl Restart {
    pub fn new(drive: &Drive, rtol: f64, first: f64) -> Result<Self, String> {
        let lu = Lu::new(drive.pattern()).map_err(|error| error.to_string())?;
        let nonzeros = drive.pattern().nonzeros();
        let at = Evaluation::new(N, nonzeros);
        Ok(Self { lu, at, matrix: vec![0.0; nonzeros], guards: vec![0.0; drive.guard_count()], rtol, first })
    }

    /// Moves `t` and `x` a little on, fires what the new mode asks for at once, and leaves the slopes of the states.
    pub fn settle(&mut self, drive: &mut Drive, t: &mut f64, x: &mut [f64], slopes: &mut [f64]) -> Result<(), String> {
        for _ in 0..10 {
            for step in [1.0, 10.0, 100.0].map(|factor| factor * self.first) {
                *t += step;
                self.euler(drive, *t, step, x, slopes)?;
            }
            drive.guards(*t, x, &mut self.guards);
            let Some(guard) = self.guards.iter().position(|&guard| guard > 0.0) else { return Ok(()) };
            drive.fire(Cause::Guard(guard), *t, x);
        }
        Err(format!("mode changes without end at {t} s"))
    }

    fn euler(&mut self, drive: &mut Drive, t: f64, h: f64, x: &mut [f64], slopes: &mut [f64]) -> Result<(), String> {
        let before: [f64; N] = std::array::from_fn(|i| x[i]);
        let mut last = f64::INFINITY;
        for _ in 0..100 {
            self.at.clear(true);
            drive.evaluate(t, x, true, &mut self.at);
            for (row, column, slot) in drive.pattern().entries() {
                self.matrix[slot] = self.at.df[slot] + self.at.dq[slot] / h;
                if row == column && row >= U1 {
                    self.at.f[row] += self.at.dq[slot] * (x[row] - before[row]) / h;
                }
            }
            self.lu.factor(&self.matrix).map_err(|error| error.to_string())?;
            self.lu.solve(&mut self.at.f);
            let mut size = 0.0_f64;
            for i in 0..N {
                x[i] -= self.at.f[i];
                size = size.max(self.at.f[i].abs() / (x[i].abs() + drive.scale()[i]));
            }
            if size < 1e-3 * self.rtol || (size < 1e-7 && size >= last) {
                for i in 0..N {
                    slopes[i] = if i < U1 { 0.0 } else { (x[i] - before[i]) / h };
                }
                return Ok(());
            }
            last = size;
        }
        Err(format!("no consistent values at {t} s"))
    }
}
