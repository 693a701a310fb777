//! The part of the matrix that is not yet eliminated, as crossed linked lists.

use super::buckets::NONE;
use super::noise::{Dice, Noise, clear};
use super::pattern::Pattern;

/// One entry; originals come first, numbered by their slot, then the fill.
pub(super) struct Entry {
    pub(super) row: u32,
    pub(super) column: u32,
    /// Scaled value.
    pub(super) value: f64,
    /// What rounding errors may have made of `value`.
    pub(super) noise: Noise,
    along_row: Links,
    along_column: Links,
}

#[derive(Clone, Copy)]
struct Links {
    next: u32,
    previous: u32,
}

impl Entry {
    /// Whether the value stands clear of the rounding errors it has gathered.
    pub(super) fn is_clear(&self) -> bool {
        clear(self.value, &self.noise)
    }
}

pub(super) struct Active {
    pub(super) entries: Vec<Entry>,
    row_heads: Vec<u32>,
    column_heads: Vec<u32>,
    pub(super) row_counts: Vec<u32>,
    pub(super) column_counts: Vec<u32>,
    /// How many pivots one after the other each row and column has been updated by.
    pub(super) row_levels: Vec<u64>,
    pub(super) column_levels: Vec<u64>,
    /// While a row is spread out: its entry in each column, `NONE` elsewhere.
    spread: Vec<u32>,
}

impl Active {
    pub(super) fn new(pattern: &Pattern, scaled: &[f64]) -> Self {
        let n = pattern.n();
        let mut active = Self {
            entries: Vec::with_capacity(pattern.nonzeros() + pattern.nonzeros() / 2),
            row_heads: vec![NONE; n],
            column_heads: vec![NONE; n],
            row_counts: vec![0; n],
            column_counts: vec![0; n],
            row_levels: vec![0; n],
            column_levels: vec![0; n],
            spread: vec![NONE; n],
        };
        let mut dice = Dice::new();
        for (row, column, slot) in pattern.entries() {
            active.insert(row as u32, column as u32, scaled[slot], dice.rounding(scaled[slot]));
        }
        active
    }

    /// How many pivots one after the other a pivot here must wait for.
    pub(super) fn level(&self, row: usize, column: usize) -> u64 {
        self.row_levels[row].max(self.column_levels[column])
    }

    pub(super) fn row(&self, row: usize) -> impl Iterator<Item = u32> + '_ {
        walk(self.row_heads[row], move |id| self.entries[id as usize].along_row.next)
    }

    pub(super) fn column(&self, column: usize) -> impl Iterator<Item = u32> + '_ {
        walk(self.column_heads[column], move |id| self.entries[id as usize].along_column.next)
    }

    /// Largest size among some entries.
    pub(super) fn largest(&self, ids: impl Iterator<Item = u32>) -> f64 {
        ids.fold(0.0, |top, id| self.entries[id as usize].value.abs().max(top))
    }

    /// Finds `(row, column)` along the shorter of the two lines, or adds it as fill.
    ///
    /// What is found moves to the front of its list: the crossing of two long lines, which every
    /// elimination next to a hub updates, is then met at once.
    pub(super) fn find_or_insert(&mut self, row: u32, column: u32) -> u32 {
        let (i, j) = (row as usize, column as usize);
        if self.row_counts[i] <= self.column_counts[j] {
            let found = self.row(i).find(|&id| self.entries[id as usize].column == column);
            if let Some(id) = found {
                self.unlink_from_row(id);
                self.link_into_row(id);
                return id;
            }
        } else {
            let found = self.column(j).find(|&id| self.entries[id as usize].row == row);
            if let Some(id) = found {
                self.unlink_from_column(id);
                self.link_into_column(id);
                return id;
            }
        }
        self.insert(row, column, 0.0, [0.0; 4])
    }

    /// Finds or adds the entries of one row in all these columns, in order.
    ///
    /// Many columns are looked up by spreading the row out first, so that dense corners cost no
    /// search; a few are cheaper to find along the lists.
    pub(super) fn find_or_insert_all(
        &mut self,
        row: u32,
        columns: impl ExactSizeIterator<Item = u32>,
        found: &mut Vec<u32>,
    ) {
        const FEW: usize = 4; // own choice, no source
        if columns.len() <= FEW {
            found.extend(columns.map(|column| self.find_or_insert(row, column)));
            return;
        }
        let mut id = self.row_heads[row as usize];
        while id != NONE {
            let entry = &self.entries[id as usize];
            self.spread[entry.column as usize] = id;
            id = entry.along_row.next;
        }
        for column in columns {
            let id = match self.spread[column as usize] {
                NONE => self.insert(row, column, 0.0, [0.0; 4]),
                id => id,
            };
            found.push(id);
        }
        let mut id = self.row_heads[row as usize];
        while id != NONE {
            let entry = &self.entries[id as usize];
            self.spread[entry.column as usize] = NONE;
            id = entry.along_row.next;
        }
    }

    fn insert(&mut self, row: u32, column: u32, value: f64, noise: Noise) -> u32 {
        let id = self.entries.len() as u32;
        let links = Links { next: NONE, previous: NONE };
        self.entries.push(Entry { row, column, value, noise, along_row: links, along_column: links });
        self.link_into_row(id);
        self.link_into_column(id);
        id
    }

    fn link_into_row(&mut self, id: u32) {
        let row = self.entries[id as usize].row as usize;
        let head = self.row_heads[row];
        self.entries[id as usize].along_row = Links { next: head, previous: NONE };
        if head != NONE {
            self.entries[head as usize].along_row.previous = id;
        }
        self.row_heads[row] = id;
        self.row_counts[row] += 1;
    }

    fn link_into_column(&mut self, id: u32) {
        let column = self.entries[id as usize].column as usize;
        let head = self.column_heads[column];
        self.entries[id as usize].along_column = Links { next: head, previous: NONE };
        if head != NONE {
            self.entries[head as usize].along_column.previous = id;
        }
        self.column_heads[column] = id;
        self.column_counts[column] += 1;
    }

    pub(super) fn unlink_from_row(&mut self, id: u32) {
        let Entry { row, along_row: Links { next, previous }, .. } = self.entries[id as usize];
        match previous {
            NONE => self.row_heads[row as usize] = next,
            _ => self.entries[previous as usize].along_row.next = next,
        }
        if next != NONE {
            self.entries[next as usize].along_row.previous = previous;
        }
        self.row_counts[row as usize] -= 1;
    }

    pub(super) fn unlink_from_column(&mut self, id: u32) {
        let Entry { column, along_column: Links { next, previous }, .. } = self.entries[id as usize];
        match previous {
            NONE => self.column_heads[column as usize] = next,
            _ => self.entries[previous as usize].along_column.next = next,
        }
        if next != NONE {
            self.entries[next as usize].along_column.previous = previous;
        }
        self.column_counts[column as usize] -= 1;
    }
}

fn walk(head: u32, next: impl Fn(u32) -> u32) -> impl Iterator<Item = u32> {
    let some = |id: u32| (id != NONE).then_some(id);
    std::iter::successors(some(head), move |&id| some(next(id)))
}
