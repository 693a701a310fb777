//! The places of a sparse square matrix that may be non-zero.

use std::ops::Range;

use super::errors::PatternError;

/// Pattern of a square sparse matrix in compressed columns.
///
/// Rows ascend within each column and no entry is stored twice. The position of an entry in that
/// order is its *slot*: values live in a plain `[f64]` beside the pattern, one per slot.
///
/// ```
/// use stallpoint_solve::sparse::Pattern;
/// let pattern = Pattern::from_entries(2, [(0, 0), (1, 1), (0, 1), (0, 0)])?;
/// assert_eq!(pattern.nonzeros(), 3); // the repeated entry counts once
/// assert_eq!(pattern.slot(0, 1), Some(1));
/// assert_eq!(pattern.slot(1, 0), None);
/// # Ok::<(), stallpoint_solve::sparse::PatternError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// Slots of column `j`: `starts[j]..starts[j + 1]`.
    starts: Vec<u32>,
    /// Row of each slot.
    rows: Vec<u32>,
}

impl Pattern {
    /// Builds the pattern of an `n` by `n` matrix from `(row, column)` pairs in any order.
    ///
    /// Repeated pairs are merged.
    ///
    /// # Errors
    /// [`PatternError::OutOfRange`] for an index of `n` or more, [`PatternError::TooLarge`] if 32-bit
    /// indices do not suffice.
    pub fn from_entries(n: usize, entries: impl IntoIterator<Item = (usize, usize)>) -> Result<Self, PatternError> {
        // A quarter of the range leaves room for the fill of the factors.
        const MOST: usize = (u32::MAX / 4) as usize;
        if n > MOST {
            return Err(PatternError::TooLarge { count: n });
        }
        let mut pairs = Vec::new();
        for (row, column) in entries {
            if row >= n || column >= n {
                return Err(PatternError::OutOfRange { row, column, n });
            }
            pairs.push((column as u32, row as u32));
        }
        pairs.sort_unstable();
        pairs.dedup();
        if pairs.len() > MOST {
            return Err(PatternError::TooLarge { count: pairs.len() });
        }
        let mut starts = vec![0u32; n + 1];
        for &(column, _) in &pairs {
            starts[column as usize + 1] += 1;
        }
        for j in 0..n {
            starts[j + 1] += starts[j];
        }
        let rows = pairs.into_iter().map(|(_, row)| row).collect();
        Ok(Self { starts, rows })
    }

    /// Rows, which are as many as columns.
    pub fn n(&self) -> usize {
        self.starts.len() - 1
    }

    /// Entries, which is the length of an array of values.
    pub fn nonzeros(&self) -> usize {
        self.rows.len()
    }

    /// Place of `(row, column)` in an array of values, or `None` if it is not in the pattern.
    pub fn slot(&self, row: usize, column: usize) -> Option<usize> {
        if row >= self.n() || column >= self.n() {
            return None;
        }
        let range = self.slots(column);
        let at = self.rows[range.clone()].binary_search(&(row as u32)).ok()?;
        Some(range.start + at)
    }

    /// Slots of a column and, in the same order, their rows.
    ///
    /// A column outside the matrix is empty.
    pub fn column(&self, column: usize) -> (Range<usize>, &[u32]) {
        if column >= self.n() {
            return (0..0, &[]);
        }
        let range = self.slots(column);
        (range.clone(), &self.rows[range])
    }

    /// Every entry as `(row, column, slot)`, slots ascending.
    pub fn entries(&self) -> impl Iterator<Item = (usize, usize, usize)> + '_ {
        (0..self.n())
            .flat_map(move |column| self.slots(column).map(move |slot| (self.rows[slot] as usize, column, slot)))
    }

    /// Product `y = A x` with the given values.
    ///
    /// Arrays that do not fit (`values` one per slot, `x` and `y` of length `n`) make every element
    /// of `y` NaN, so that the mistake cannot pass for an answer.
    pub fn multiply(&self, values: &[f64], x: &[f64], y: &mut [f64]) {
        let n = self.n();
        if values.len() != self.nonzeros() || x.len() != n || y.len() != n {
            y.fill(f64::NAN);
            return;
        }
        y.fill(0.0);
        for (column, &factor) in x.iter().enumerate() {
            let range = self.slots(column);
            for (&row, value) in self.rows[range.clone()].iter().zip(&values[range]) {
                y[row as usize] += value * factor;
            }
        }
    }

    /// `(row, column)` of a slot that exists.
    pub(super) fn place(&self, slot: usize) -> (usize, usize) {
        let column = self.starts.partition_point(|&start| start as usize <= slot) - 1;
        (self.rows[slot] as usize, column)
    }

    /// Row of a slot that exists.
    pub(super) fn row(&self, slot: usize) -> usize {
        self.rows[slot] as usize
    }

    fn slots(&self, column: usize) -> Range<usize> {
        self.starts[column] as usize..self.starts[column + 1] as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_slots_follow_columns_then_rows() {
        let pattern = Pattern::from_entries(3, [(2, 0), (0, 0), (1, 2), (2, 0)]).unwrap();
        let all: Vec<_> = pattern.entries().collect();
        assert_eq!(all, [(0, 0, 0), (2, 0, 1), (1, 2, 2)]);
        assert_eq!(pattern.column(1).0, 1 + 1..2);
        assert_eq!(pattern.column(2), (2..3, &[1u32][..]));
        for (row, column, slot) in all {
            assert_eq!(pattern.slot(row, column), Some(slot));
            assert_eq!(pattern.place(slot), (row, column));
        }
        assert_eq!(pattern.slot(7, 0), None);
    }

    #[test]
    fn exact_product() {
        let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 1)]).unwrap();
        let mut y = [9.0; 2];
        pattern.multiply(&[2.0, 3.0, 5.0], &[1.0, 10.0], &mut y);
        assert_eq!(y, [32.0, 50.0]);
        pattern.multiply(&[2.0], &[1.0, 10.0], &mut y);
        assert!(y.iter().all(|v| v.is_nan()));
    }

    #[test]
    fn exact_outside_is_named() {
        let error = Pattern::from_entries(2, [(0, 0), (1, 2)]).unwrap_err();
        assert_eq!(error, PatternError::OutOfRange { row: 1, column: 2, n: 2 });
    }
}
