//! What can be wrong with a table.

use thiserror::Error;

/// Why a table was refused.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum TableError {
    /// No "# source:" line, or an empty one.
    #[error(
        "table \"{table}\" names no source; add a line \"# source: ...\" at its head, \"typical, no source\" if there is none"
    )]
    NoSource {
        /// The table.
        table: String,
    },
    /// No "# status:" line, or one that starts with no known word.
    #[error(
        "table \"{table}\" has no status it can be judged by; add a line \"# status: \" with read, recomputed, memory or typical, or \"see the status column\""
    )]
    NoStatus {
        /// The table.
        table: String,
    },
    /// A table that says it has no source may only be typical.
    #[error("table \"{table}\" has no source, so its status has to be typical")]
    SourceContradictsStatus {
        /// The table.
        table: String,
    },
    /// No line of column names, or no row under it.
    #[error("table \"{table}\" has no rows")]
    Empty {
        /// The table.
        table: String,
    },
    /// A row with more or fewer cells than columns.
    #[error("table \"{table}\", row {row}: {cells} cells for {columns} columns")]
    RowLength {
        /// The table.
        table: String,
        /// The row, from 1.
        row: usize,
        /// Cells in it.
        cells: usize,
        /// Columns of the table.
        columns: usize,
    },
    /// A column that is asked for and not there.
    #[error("table \"{table}\" has no column \"{column}\"")]
    NoColumn {
        /// The table.
        table: String,
        /// The column.
        column: String,
    },
    /// A cell that is not what its column holds.
    #[error("table \"{table}\", row {row}, column \"{column}\": \"{text}\" is not {expected}")]
    Cell {
        /// The table.
        table: String,
        /// The row, from 1.
        row: usize,
        /// The column.
        column: String,
        /// The cell.
        text: String,
        /// What was expected.
        expected: &'static str,
    },
}
