//! LU factors of a sparse matrix whose pattern stays and whose values change.

use super::analysis::analyse;
use super::errors::{FactorError, StructurallySingular};
use super::lanes::Lanes;
use super::matching;
use super::pattern::Pattern;
use super::refactor::{Outcome, Trust};
use super::scaling::Scaling;
use super::schedule::Schedule;

/// Sparse LU factorisation `R A C = L U` (rows and columns permuted) for many matrices of one pattern.
///
/// The first [`factor`](Self::factor) equilibrates the matrix by powers of two, chooses the pivots by
/// Markowitz cost with a relative threshold (0.3; 0.1 in a small matrix), and keeps the elimination as flat index arrays; a
/// dense corner is kept as a square. Later calls follow these without search or allocation. They watch every pivot:
/// one that falls below a twentieth of both its row and its column (half of what it was when chosen, if that was less),
/// or whose updates grow beyond two digits (ten times what they were when it was chosen, if that was
/// more), makes the scales and, if that does not help, the pivots be chosen anew from the present values (only then is
/// memory allocated again). One that fell a thousandfold is compared with samples of the rounding
/// errors in it, so that a matrix that became singular is found though its last pivot is not exactly
/// zero.
///
/// Same pattern and same history of values give the same bits.
///
/// Limits: the rounding errors are sampled. A matrix within a few rounding errors of a
/// singular one may be called either.
///
/// ```
/// use stallpoint_solve::sparse::{Lu, Pattern};
/// let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 0), (1, 1)])?;
/// let mut lu = Lu::new(&pattern)?;
/// lu.factor(&[2.0, 1.0, 1.0, 3.0])?; // column by column
/// let mut b = [3.0, 4.0];
/// lu.solve(&mut b);
/// assert_eq!(b, [1.0, 1.0]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Lu {
    pattern: Pattern,
    schedule: Option<Schedule>,
    scaling: Scaling,
    /// Whether the schedule holds the factors of the last matrix.
    ready: bool,
    /// Whether pivots were ever chosen.
    analysed: bool,
    factorisations: u64,
    repivots: u64,
    rescales: u64,
    /// Room for the residual of a refinement.
    rest: Vec<f64>,
}

impl Lu {
    /// Prepares for matrices of this pattern.
    ///
    /// # Errors
    /// [`StructurallySingular`] if no values could make the matrix regular.
    pub fn new(pattern: &Pattern) -> Result<Self, StructurallySingular> {
        matching::check(pattern)?;
        let pattern = pattern.clone();
        let rest = vec![0.0; pattern.n()];
        let scaling = Scaling::new(pattern.n());
        Ok(Self {
            pattern,
            schedule: None,
            scaling,
            ready: false,
            analysed: false,
            factorisations: 0,
            repivots: 0,
            rescales: 0,
            rest,
        })
    }

    /// Factorises the matrix with these values, one per slot of the pattern.
    ///
    /// # Errors
    /// [`FactorError::Length`], [`FactorError::NotFinite`], or [`FactorError::Singular`] if even a
    /// fresh choice finds no acceptable pivot. After an error there are no factors to solve with;
    /// the next call may succeed.
    pub fn factor(&mut self, values: &[f64]) -> Result<(), FactorError> {
        self.ready = false;
        let expected = self.pattern.nonzeros();
        if values.len() != expected {
            return Err(FactorError::Length { expected, given: values.len() });
        }
        let Some(schedule) = &mut self.schedule else {
            check_finite(&self.pattern, values)?;
            return self.analyse(values);
        };
        let mut outcome = schedule.refactor(values, Trust::Neither);
        if outcome == Outcome::Doubtful {
            outcome = schedule.inspect(values);
        }
        if outcome != Outcome::Good {
            check_finite(&self.pattern, values)?;
            self.rescales += 1;
            // Pivots may look weak only because the scales were made for other values.
            self.scaling.fit(&self.pattern, values);
            schedule.rescale(&self.pattern, &self.scaling);
            outcome = schedule.refactor(values, Trust::Scales);
            if outcome == Outcome::Good {
                outcome = schedule.inspect(values);
            }
        }
        if outcome == Outcome::Good {
            return self.accept();
        }
        // Should the analysis fail, the old schedule has lost what it knew of its pivots.
        self.schedule = None;
        self.analyse(values)
    }

    /// Replaces the right-hand side `b` by the solution `x` of `A x = b`.
    ///
    /// Without factors (before [`factor`](Self::factor) or after its error), or if the length of `b`
    /// is not that of the matrix, every element becomes NaN: the mistake cannot pass for an answer.
    pub fn solve(&mut self, b: &mut [f64]) {
        match &mut self.schedule {
            Some(schedule) if self.ready && b.len() == self.pattern.n() => schedule.solve(b),
            _ => b.fill(f64::NAN),
        }
    }

    /// One step of iterative refinement: improves a solution `x` of `A x = b` in place.
    ///
    /// Wanted where rows of very different size must each be satisfied to their own last digits;
    /// a Newton iteration, which forms its residual anew, does the same by itself. `values` are those
    /// last factorised. Arrays that do not fit make `x` NaN.
    pub fn refine(&mut self, values: &[f64], b: &[f64], x: &mut [f64]) {
        let n = self.pattern.n();
        let mut rest = std::mem::take(&mut self.rest);
        rest.resize(n, 0.0);
        self.pattern.multiply(values, x, &mut rest);
        if b.len() == n {
            rest.iter_mut().zip(b).for_each(|(rest, b)| *rest = b - *rest);
        } else {
            rest.fill(f64::NAN);
        }
        self.solve(&mut rest);
        x.iter_mut().zip(&rest).for_each(|(x, rest)| *x += rest);
        if x.len() != n {
            x.fill(f64::NAN);
        }
        self.rest = rest;
    }

    /// Room for several matrices of this pattern at once, along the present pivots; `None` without factors.
    pub fn lanes(&self) -> Option<Lanes> {
        let schedule = self.schedule.as_ref().filter(|_| self.ready)?;
        Some(Lanes::new(schedule, self.pattern.nonzeros()))
    }

    /// Successful factorisations so far.
    pub fn factorisations(&self) -> u64 {
        self.factorisations
    }

    /// Times the pivots were chosen anew after the first choice, successful or not.
    pub fn repivots(&self) -> u64 {
        self.repivots
    }

    /// Times new scales were tried because pivots looked weak under the old ones.
    pub fn rescales(&self) -> u64 {
        self.rescales
    }

    /// Entries of `L` and `U` together, the diagonal once; 0 while no pivots are chosen.
    pub fn fill(&self) -> usize {
        self.schedule.as_ref().map_or(0, |schedule| schedule.factors.len())
    }

    fn analyse(&mut self, values: &[f64]) -> Result<(), FactorError> {
        self.repivots += u64::from(self.analysed);
        self.analysed = true;
        self.scaling.fit(&self.pattern, values);
        let mut schedule = analyse(&self.pattern, values, &self.scaling)?;
        // The analysis computed these very pivots, its sums in another order, and its scales bring every
        // value near one: anything but good factors means overflow on the way.
        let weak = match schedule.refactor(values, Trust::Pivots) {
            Outcome::Good | Outcome::Doubtful => None,
            Outcome::Weak(step) => Some(step),
        };
        if let Some(step) = weak {
            let row = schedule.pivot_rows[step] as usize;
            let column = schedule.pivot_columns[step] as usize;
            return Err(FactorError::Singular { row, column });
        }
        self.schedule = Some(schedule);
        self.accept()
    }

    fn accept(&mut self) -> Result<(), FactorError> {
        self.ready = true;
        self.factorisations += 1;
        Ok(())
    }
}

fn check_finite(pattern: &Pattern, values: &[f64]) -> Result<(), FactorError> {
    match values.iter().position(|value| !value.is_finite()) {
        None => Ok(()),
        Some(slot) => {
            let (row, column) = pattern.place(slot);
            Err(FactorError::NotFinite { row, column })
        }
    }
}
