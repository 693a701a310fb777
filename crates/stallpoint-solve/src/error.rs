//! What can go wrong in a solve.

use crate::sparse::{FactorError, PatternError, StructurallySingular};

/// A solve that could not go on. Names are those the [`System`](crate::System) gives.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SolveError {
    /// The time span is empty or not finite.
    #[error("the time span from {from} s to {to} s is empty: the end must be later than the start")]
    EmptySpan {
        /// Start.
        from: f64,
        /// End.
        to: f64,
    },
    /// An option is outside its range.
    #[error("option `{option}` is {value}: {advice}")]
    Option {
        /// The option's name.
        option: &'static str,
        /// The value given.
        value: f64,
        /// What is allowed.
        advice: &'static str,
    },
    /// The initial values do not fit the system.
    #[error("{given} initial values for {expected} unknowns")]
    Length {
        /// Number given.
        given: usize,
        /// Number needed.
        expected: usize,
    },
    /// The pattern is not usable.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// No values can make the equations solvable.
    #[error("the equations cannot be solved whatever their values: {unknowns} not determined by {equations}")]
    StructurallySingular {
        /// The unknowns without an equation.
        unknowns: String,
        /// The equations without an unknown.
        equations: String,
    },
    /// The matrix of a Newton step is singular.
    #[error("at {t} s the equations have no unique solution: {unknown} is not determined (see {equation})")]
    Singular {
        /// Time.
        t: f64,
        /// The undetermined unknown.
        unknown: String,
        /// A row it appears in.
        equation: String,
    },
    /// An evaluation gave NaN or infinity.
    #[error("at {t} s {equation} is not a finite number")]
    NotFinite {
        /// Time.
        t: f64,
        /// The offending row.
        equation: String,
    },
    /// Newton's method did not converge.
    #[error("at {t} s no solution was found after {iterations} iterations; {unknown} moved most")]
    NotConverged {
        /// Time.
        t: f64,
        /// Iterations made.
        iterations: u64,
        /// The unknown that moved most.
        unknown: String,
    },
    /// The step became too small.
    #[error(
        "at {t} s the step shrank to {step:.1e} s without meeting the tolerance; {unknown} is to blame: loosen rtol, or look for an abrupt change in its part"
    )]
    StepTooSmall {
        /// Time.
        t: f64,
        /// The step refused.
        step: f64,
        /// The unknown with the largest error.
        unknown: String,
    },
    /// Too many mode changes at one instant.
    #[error("at {t} s the mode changed more than {limit} times without time going on, by turns: {causes}")]
    TooManyChanges {
        /// Time.
        t: f64,
        /// The limit passed.
        limit: usize,
        /// The guards that fired, without repeats.
        causes: String,
    },
}

impl SolveError {
    /// Names the parts of a structural singularity.
    pub(crate) fn structure(error: &StructurallySingular, system: &(impl crate::System + ?Sized)) -> Self {
        let names = |indices: &[usize], name: &dyn Fn(usize) -> String| {
            indices.iter().take(6).map(|&i| name(i)).collect::<Vec<_>>().join(", ")
        };
        Self::StructurallySingular {
            unknowns: names(&error.columns, &|i| system.unknown_name(i)),
            equations: names(&error.rows, &|i| system.equation_name(i)),
        }
    }

    /// Names the place of a failed factorisation.
    pub(crate) fn factor(error: &FactorError, t: f64, system: &(impl crate::System + ?Sized)) -> Self {
        match *error {
            FactorError::Singular { row, column } => {
                Self::Singular { t, unknown: system.unknown_name(column), equation: system.equation_name(row) }
            }
            FactorError::NotFinite { row, .. } => Self::NotFinite { t, equation: system.equation_name(row) },
            FactorError::Length { given, expected } => Self::Length { given, expected },
        }
    }
}
