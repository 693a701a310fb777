//! Structural rank: a maximum matching of columns to rows (Hopcroft and Karp 1973).

use super::errors::StructurallySingular;
use super::pattern::Pattern;

const NONE: u32 = u32::MAX;

/// Checks that every row can be given a column of its own.
pub(super) fn check(pattern: &Pattern) -> Result<(), StructurallySingular> {
    let mut matching = Matching::greedy(pattern);
    while matching.layer() && matching.augment() {}
    let free = |of: &[u32]| (0..of.len()).filter(|&i| of[i] == NONE).collect::<Vec<_>>();
    let rows = free(&matching.column_of);
    if rows.is_empty() {
        return Ok(());
    }
    Err(StructurallySingular { rows, columns: free(&matching.row_of) })
}

struct Matching<'a> {
    pattern: &'a Pattern,
    row_of: Vec<u32>,
    column_of: Vec<u32>,
    /// Breadth-first distance of each column from the unmatched columns.
    depth: Vec<u32>,
    queue: Vec<u32>,
}

impl<'a> Matching<'a> {
    /// Diagonal first, then whatever row is free: most matrices are matched here already.
    fn greedy(pattern: &'a Pattern) -> Self {
        let n = pattern.n();
        let mut row_of = vec![NONE; n];
        let mut column_of = vec![NONE; n];
        for j in 0..n {
            if pattern.slot(j, j).is_some() {
                row_of[j] = j as u32;
                column_of[j] = j as u32;
            }
        }
        for j in 0..n {
            if row_of[j] != NONE {
                continue;
            }
            let rows = pattern.column(j).1;
            if let Some(&row) = rows.iter().find(|&&row| column_of[row as usize] == NONE) {
                row_of[j] = row;
                column_of[row as usize] = j as u32;
            }
        }
        Self { pattern, row_of, column_of, depth: vec![NONE; n], queue: Vec::with_capacity(n) }
    }

    /// Layers the columns by alternating distance; true if an unmatched row is within reach.
    fn layer(&mut self) -> bool {
        self.depth.fill(NONE);
        self.queue.clear();
        for j in 0..self.row_of.len() {
            if self.row_of[j] == NONE {
                self.depth[j] = 0;
                self.queue.push(j as u32);
            }
        }
        let mut reached = false;
        let mut head = 0;
        while let Some(&column) = self.queue.get(head) {
            head += 1;
            for &row in self.pattern.column(column as usize).1 {
                let next = self.column_of[row as usize];
                if next == NONE {
                    reached = true;
                } else if self.depth[next as usize] == NONE {
                    self.depth[next as usize] = self.depth[column as usize] + 1;
                    self.queue.push(next);
                }
            }
        }
        reached
    }

    /// Flips disjoint augmenting paths along the layers; true if there was one.
    ///
    /// The depth-first search keeps its own stack: paths can be as long as the matrix.
    fn augment(&mut self) -> bool {
        let n = self.row_of.len();
        let mut next_row = vec![0u32; n];
        let mut stack: Vec<u32> = Vec::new();
        let mut any = false;
        for start in 0..n {
            if self.row_of[start] != NONE {
                continue;
            }
            stack.push(start as u32);
            while let Some(&column) = stack.last() {
                let j = column as usize;
                let rows = self.pattern.column(j).1;
                let Some(&row) = rows.get(next_row[j] as usize) else {
                    stack.pop();
                    continue;
                };
                next_row[j] += 1;
                let owner = self.column_of[row as usize];
                if owner == NONE {
                    // Every column on the stack takes the row it looked at last.
                    for column in stack.drain(..) {
                        let j = column as usize;
                        let row = self.pattern.column(j).1[next_row[j] as usize - 1];
                        self.row_of[j] = row;
                        self.column_of[row as usize] = column;
                    }
                    any = true;
                } else if self.depth[owner as usize] == self.depth[j] + 1 {
                    stack.push(owner);
                }
            }
        }
        any
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_cycle_without_diagonal_has_full_rank() {
        let n = 50;
        let entries = (0..n).flat_map(|i| [(i, (i + 1) % n), ((i + 1) % n, i)]);
        assert_eq!(check(&Pattern::from_entries(n, entries).unwrap()), Ok(()));
    }

    #[test]
    fn exact_long_augmenting_path() {
        // Greedy takes the diagonal of rows 1..n; only shifting all of them frees a row for column 0.
        let n = 20_000;
        let mut entries: Vec<_> = (1..n).flat_map(|i| [(i, i), (i, i - 1)]).collect();
        entries.push((0, n - 1));
        assert_eq!(check(&Pattern::from_entries(n, entries).unwrap()), Ok(()));
    }

    #[test]
    fn exact_left_over_rows_and_columns() {
        // Rows 1 and 2 have only column 0; column 2 is empty.
        let entries = [(0, 0), (0, 1), (1, 0), (2, 0)];
        let error = check(&Pattern::from_entries(3, entries).unwrap()).unwrap_err();
        assert_eq!(error.columns, [2]);
        assert_eq!(error.rows.len(), 1);
        assert!(error.rows[0] == 1 || error.rows[0] == 2);
    }
}
