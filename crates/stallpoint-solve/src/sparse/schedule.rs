//! The elimination as flat index arrays: what a refactorisation or a solution follows blindly.

use super::active::Entry;
use super::noise::Noise;
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

/// What a pivot is measured by.
#[derive(Clone, Copy, Debug)]
pub(super) struct Watch {
    /// Largest size since its rounding errors were last looked at.
    pub(super) seen: f64,
    /// Part of its row or its column that it must reach.
    pub(super) part: f64,
    /// Size of its updates when it was chosen.
    pub(super) growth: f64,
}

/// Pivot order, factors and scales of one analysis.
#[derive(Clone, Debug)]
pub(super) struct Schedule {
    pub(super) blocks: Vec<Block>,
    /// The factors, block after block; a pivot is stored as its inverse, its row already multiplied by that.
    pub(super) factors: Vec<f64>,
    /// Step at which the row (lower) or column (upper) of each factor is itself the pivot.
    index: Vec<u32>,
    /// The entries left of the pivot in each step's row, row after row: their place in `factors` and the step of their
    /// column. A row at a time, a sum stays in a register where column by column it would wait for memory.
    left: Vec<(u32, u32)>,
    /// How many of them each step has.
    left_counts: Vec<u32>,
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
    pub(super) watches: Vec<Watch>,
    /// Room for the rounding errors that an inspection follows; empty before the first.
    pub(super) noise: Vec<Noise>,
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
        let mut watches = Vec::with_capacity(n);
        let mut start = 0;
        let mut done = 0;
        for (step, block) in blocks.iter().enumerate() {
            let pivot = &entries[order[start] as usize];
            pivot_rows.push(pivot.row);
            pivot_columns.push(pivot.column);
            watches.push(Watch { seen: pivot.value.abs(), part: 0.0, growth: 0.0 });
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
        let mut rows = vec![Vec::new(); n];
        let mut start = 0;
        for (step, block) in blocks.iter().enumerate() {
            for place in start + 1 + block.upper as usize..start + block.len() {
                rows[index[place] as usize].push((place as u32, step as u32));
            }
            start += block.len();
        }
        let pick = |scales: &[f64], of: &[u32]| of.iter().map(|&i| scales[i as usize]).collect();
        Self {
            factors: vec![0.0; order.len()],
            noise: Vec::new(),
            index,
            left_counts: rows.iter().map(|row| row.len() as u32).collect(),
            left: rows.concat(),
            targets,
            fills: place.split_off(pattern.nonzeros()),
            places: place,
            scales: pattern.entries().map(|(i, j, _)| scaling.of(i, j)).collect(),
            row_scales: pick(&scaling.rows, &pivot_rows),
            column_scales: pick(&scaling.columns, &pivot_columns),
            pivot_rows,
            pivot_columns,
            watches,
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
        self.watches.iter_mut().for_each(|watch| watch.seen = 0.0);
    }

    /// Replaces `b` by the solution; `b` has the length of the matrix.
    pub(super) fn solve(&mut self, b: &mut [f64]) {
        let work = &mut self.work[..];
        let factors = &self.factors[..];
        let mut left = &self.left[..];
        let rows = self.pivot_rows.iter().zip(&self.row_scales).zip(&self.left_counts);
        for (step, ((&row, scale), &count)) in rows.enumerate() {
            let (here, rest) = left.split_at(count as usize);
            left = rest;
            let mut y = b[row as usize] * scale;
            for &(place, earlier) in here {
                y -= factors[place as usize] * work[earlier as usize];
            }
            work[step] = y;
        }
        let (mut factors, mut index) = (&self.factors[..], &self.index[..]);
        let columns = self.pivot_columns.iter().zip(&self.column_scales);
        for (step, (block, (&column, scale))) in self.blocks.iter().zip(columns).enumerate().rev() {
            let (factor_front, head) = factors.split_at(factors.len() - block.len());
            let (index_front, places) = index.split_at(index.len() - block.len());
            let lower = 1 + block.upper as usize;
            let mut x = work[step] * head[0];
            for (u, &j) in head[1..lower].iter().zip(&places[1..lower]) {
                x -= u * work[j as usize];
            }
            work[step] = x;
            b[column as usize] = x * scale;
            (factors, index) = (factor_front, index_front);
        }
    }
}
