//! What can be wrong with a pattern or with a matrix to factorise.

use thiserror::Error;

/// A pattern that cannot be built.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PatternError {
    /// An entry lies outside the square.
    #[error("entry ({row}, {column}) lies outside a matrix of {n} rows and columns; indices count from 0")]
    OutOfRange {
        /// Row of the entry.
        row: usize,
        /// Column of the entry.
        column: usize,
        /// Rows and columns of the matrix.
        n: usize,
    },
    /// More rows or entries than 32-bit indices can hold.
    #[error("{count} rows or entries are more than 32-bit indices can hold; split the matrix")]
    TooLarge {
        /// The number that is too large.
        count: usize,
    },
}

/// A pattern that no values can make regular.
///
/// The lists are those left over by one maximum matching of rows to columns; both have the same
/// length. Another maximum matching may leave over others.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "no values can make this pattern regular: rows {rows:?} find no column of their own and columns \
     {columns:?} no row; add the missing entries or drop these unknowns"
)]
pub struct StructurallySingular {
    /// Rows left without a column, ascending.
    pub rows: Vec<usize>,
    /// Columns left without a row, ascending.
    pub columns: Vec<usize>,
}

/// A matrix that cannot be factorised.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum FactorError {
    /// No acceptable pivot is left: the matrix is singular to working precision.
    #[error(
        "the matrix is singular to working precision: row {row} appears to depend on the other rows \
         and column {column} on the other columns; check the equation and the unknown they stand for"
    )]
    Singular {
        /// Best guess of a dependent row.
        row: usize,
        /// Best guess of a dependent column.
        column: usize,
    },
    /// A value is NaN or infinite.
    #[error("the value at row {row}, column {column} is not a finite number; look at what computes it")]
    NotFinite {
        /// Row of the first such value.
        row: usize,
        /// Column of the first such value.
        column: usize,
    },
    /// The array of values does not fit the pattern.
    #[error("the pattern has {expected} entries but {given} values were given; pass one value per slot")]
    Length {
        /// Entries of the pattern.
        expected: usize,
        /// Values given.
        given: usize,
    },
}
