//! The one reader of table files.
//!
//! A table is comma-separated text under a head of "# source:" and "# status:" lines and a line of column names.

use super::error::TableError;
use std::ops::Range;

/// How a number is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in public text.
    Read,
    /// Follows from its published formula.
    Recomputed,
    /// From memory: use your data sheet.
    Memory,
    /// Typical, no source.
    Typical,
}

impl Status {
    fn from_word(word: &str) -> Option<Self> {
        match word {
            "read" => Some(Status::Read),
            "recomputed" => Some(Status::Recomputed),
            "memory" => Some(Status::Memory),
            "typical" => Some(Status::Typical),
            _ => None,
        }
    }
}

/// A table with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    name: String,
    source: String,
    status: String,
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
    statuses: Vec<Status>,
}

impl Table {
    /// Reads a table from its text.
    ///
    /// # Errors
    /// Where the source or status is missing, the rows are ragged, or there are none.
    pub fn parse(name: &str, text: &str) -> Result<Table, TableError> {
        let table = name.to_owned();
        let head = |key: &str| {
            let line = text.lines().take_while(|l| l.starts_with('#')).find_map(|l| l[1..].trim().strip_prefix(key))?;
            Some(line.trim().to_owned()).filter(|t| !t.is_empty())
        };
        let source = head("source:").ok_or_else(|| TableError::NoSource { table: table.clone() })?;
        let status = head("status:").ok_or_else(|| TableError::NoStatus { table: table.clone() })?;
        let mut lines = text.lines().filter(|l| !l.starts_with('#') && !l.trim().is_empty()).map(cells);
        let columns = lines.next().ok_or_else(|| TableError::Empty { table: table.clone() })?;
        let rows: Vec<Vec<String>> = lines.collect();
        if rows.is_empty() {
            return Err(TableError::Empty { table });
        }
        if let Some(at) = rows.iter().position(|r| r.len() != columns.len()) {
            return Err(TableError::RowLength { table, row: at + 1, cells: rows[at].len(), columns: columns.len() });
        }
        let mut read = Table { name: table, source, status, columns, rows, statuses: Vec::new() };
        read.statuses = read.row_statuses()?;
        if read.source.contains("no source") && read.statuses.iter().any(|s| *s != Status::Typical) {
            return Err(TableError::SourceContradictsStatus { table: read.name });
        }
        Ok(read)
    }

    fn row_statuses(&self) -> Result<Vec<Status>, TableError> {
        if self.columns.iter().any(|c| c == "status") {
            return self.row_numbers().map(|row| self.parsed(row, "status", "a status", Status::from_word)).collect();
        }
        let word = self.status.split([',', ';', ' ']).next().unwrap_or_default();
        let status = Status::from_word(word).ok_or_else(|| TableError::NoStatus { table: self.name.clone() })?;
        Ok(vec![status; self.rows.len()])
    }

    /// The table's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where the numbers come from.
    pub fn source(&self) -> &str {
        &self.source
    }

    /// How well they are known, in words.
    pub fn status_text(&self) -> &str {
        &self.status
    }

    /// How well row `row` (from 0) is known; `None` past the last row.
    pub fn status(&self, row: usize) -> Option<Status> {
        self.statuses.get(row).copied()
    }

    /// The names of the columns.
    pub fn columns(&self) -> &[String] {
        &self.columns
    }

    /// The rows as text.
    pub fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    pub(super) fn row_numbers(&self) -> Range<usize> {
        0..self.rows.len()
    }

    pub(super) fn text(&self, row: usize, column: &str) -> Result<&str, TableError> {
        let at = self
            .columns
            .iter()
            .position(|c| c == column)
            .ok_or_else(|| TableError::NoColumn { table: self.name.clone(), column: column.to_owned() })?;
        Ok(&self.rows[row][at])
    }

    /// A finite number.
    pub(super) fn number(&self, row: usize, column: &str) -> Result<f64, TableError> {
        self.parsed(row, column, "a finite number", |t| t.parse().ok().filter(|x: &f64| x.is_finite()))
    }

    /// A finite number, or nothing in an empty cell.
    pub(super) fn optional(&self, row: usize, column: &str) -> Result<Option<f64>, TableError> {
        if self.text(row, column)?.is_empty() { Ok(None) } else { self.number(row, column).map(Some) }
    }

    /// A cell read by `read`.
    pub(super) fn parsed<T>(
        &self,
        row: usize,
        column: &str,
        expected: &'static str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Result<T, TableError> {
        let text = self.text(row, column)?;
        read(text).ok_or_else(|| TableError::Cell {
            table: self.name.clone(),
            row: row + 1,
            column: column.to_owned(),
            text: text.to_owned(),
            expected,
        })
    }

    /// Every row read by `read`.
    pub(super) fn each<T>(&self, read: impl Fn(&Table, usize) -> Result<T, TableError>) -> Result<Vec<T>, TableError> {
        self.row_numbers().map(|row| read(self, row)).collect()
    }
}

fn cells(line: &str) -> Vec<String> {
    line.split(',').map(|cell| cell.trim().to_owned()).collect()
}
