//! The elimination as flat index arrays: what a refactorisation or a solution follows blindly.

use super::active::Entry;
use super::pattern::Pattern;
use super::scaling::Scaling;

/// Shape of one pivot's share of the factors: the pivot, then `upper` entries of its row, then
/// `lower` entries of its column.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub(super) upper: u32,
    pub(super) lower: u32,
}

impl Block {
    pub(super) fn len(self) -> usize {
        1 + (self.upper + self.lower) as usize
    }
}

/// Pivot order, factors and scales of one analysis.
#[derive(Clone, Debug)]
pub(super) struct Schedule {
    pub(super) blocks: Vec<Block>,
    /// The factors, block after block; a pivot is stored as its inverse.
    pub(super) factors: Vec<f64>,
    /// Step at which the row (lower) or column (upper) of each factor is itself the pivot.
    index: Vec<u32>,
    /// Place updated by each multiply-subtract, counted from the end of the pivot's block.
    pub(super) targets: Vec<u32>,
    /// Place in `factors` and scale of each slot.
    pub(super) places: Vec<u32>,
    pub(super) scales: Vec<f64>,
    /// Places that hold no entry of the matrix.
    pub(super) fills: Vec<u32>,
    /// Row, column and their scales of each pivot.
    pub(super) pivot_rows: Vec<u32>,
    pub(super) pivot_columns: Vec<u32>,
    row_scales: Vec<f64>,
    column_scales: Vec<f64>,
    /// Largest size of each pivot since its rounding errors were last looked at.
    pub(super) seen: Vec<f64>,
    /// Room for the variances of an inspection.
    pub(super) noise: Vec<f64>,
    work: Vec<f64>,
}

impl Schedule {
    /// Turns the record of an elimination into index arrays.
    ///
    /// `order` lists every entry once; `targets` names entries and becomes distances.
    pub(super) fn compile(
        pattern: &Pattern,
        scaling: &Scaling,
        entries: &[Entry],
        blocks: Vec<Block>,
        order: &[u32],
        mut targets: Vec<u32>,
    ) -> Self {
        let n = blocks.len();
        let mut place = vec![0u32; entries.len()];
        for (at, &id) in order.iter().enumerate() {
            place[id as usize] = at as u32;
        }
        let mut row_step = vec![0u32; n];
        let mut column_step = vec![0u32; n];
        let (mut pivot_rows, mut pivot_columns) = (Vec::with_capacity(n), Vec::with_capacity(n));
        let mut seen = Vec::with_capacity(n);
        let mut start = 0;
        let mut done = 0;
        for (step, block) in blocks.iter().enumerate() {
            let pivot = &entries[order[start] as usize];
            pivot_rows.push(pivot.row);
            pivot_columns.push(pivot.column);
            seen.push(pivot.value.abs());
            row_step[pivot.row as usize] = step as u32;
            column_step[pivot.column as usize] = step as u32;
            start += block.len();
            let updates = (block.upper * block.lower) as usize;
            for target in &mut targets[done..done + updates] {
                *target = place[*target as usize] - start as u32;
            }
            done += updates;
        }
        let mut index = Vec::with_capacity(order.len());
        for (step, block) in blocks.iter().enumerate() {
            let first = index.len() + 1;
            let middle = first + block.upper as usize;
            let end = middle + block.lower as usize;
            index.push(step as u32);
            let upper = order[first..middle].iter();
            index.extend(upper.map(|&id| column_step[entries[id as usize].column as usize]));
            let lower = order[middle..end].iter();
            index.extend(lower.map(|&id| row_step[entries[id as usize].row as usize]));
        }
        let pick = |scales: &[f64], of: &[u32]| of.iter().map(|&i| scales[i as usize]).collect();
        Self {
            factors: vec![0.0; order.len()],
            noise: vec![0.0; order.len()],
            index,
            targets,
            fills: place.split_off(pattern.nonzeros()),
            places: place,
            scales: pattern.entries().map(|(i, j, _)| scaling.of(i, j)).collect(),
            row_scales: pick(&scaling.rows, &pivot_rows),
            column_scales: pick(&scaling.columns, &pivot_columns),
            pivot_rows,
            pivot_columns,
            seen,
            work: vec![0.0; n],
            blocks,
        }
    }

    /// Scales for other values; the pivots stay.
    pub(super) fn rescale(&mut self, pattern: &Pattern, scaling: &Scaling) {
        for (i, j, slot) in pattern.entries() {
            self.scales[slot] = scaling.of(i, j);
        }
        for step in 0..self.blocks.len() {
            self.row_scales[step] = scaling.rows[self.pivot_rows[step] as usize];
            self.column_scales[step] = scaling.columns[self.pivot_columns[step] as usize];
        }
        // Sizes under the old scales say nothing any more.
        self.seen.fill(0.0);
    }

    /// Replaces `b` by the solution; `b` has the length of the matrix.
    pub(super) fn solve(&mut self, b: &mut [f64]) {
        let work = &mut self.work;
        for ((w, &row), scale) in work.iter_mut().zip(&self.pivot_rows).zip(&self.row_scales) {
            *w = b[row as usize] * scale;
        }
        let (mut factors, mut index) = (&self.factors[..], &self.index[..]);
        for (step, block) in self.blocks.iter().enumerate() {
            let (head, factor_tail) = factors.split_at(block.len());
            let (places, index_tail) = index.split_at(block.len());
            let lower = 1 + block.upper as usize;
            let y = work[step];
            for (l, &i) in head[lower..].iter().zip(&places[lower..]) {
                work[i as usize] -= l * y;
            }
            (factors, index) = (factor_tail, index_tail);
        }
        let (mut factors, mut index) = (&self.factors[..], &self.index[..]);
        for (step, block) in self.blocks.iter().enumerate().rev() {
            let (factor_front, head) = factors.split_at(factors.len() - block.len());
            let (index_front, places) = index.split_at(index.len() - block.len());
            let lower = 1 + block.upper as usize;
            let mut x = work[step];
            for (u, &j) in head[1..lower].iter().zip(&places[1..lower]) {
                x -= u * work[j as usize];
            }
            work[step] = x * head[0];
            (factors, index) = (factor_front, index_front);
        }
        for ((w, &column), scale) in work.iter().zip(&self.pivot_columns).zip(&self.column_scales) {
            b[column as usize] = w * scale;
        }
    }
}
