//! The elimination as flat index arrays: what a refactorisation or a solution follows blindly.

use super::active::Entry;
use super::arrange::{Run, arrange, dense_tail, runs};
use super::dense::PANEL;
use super::noise::Noise;
use super::pattern::Pattern;
use super::scaling::Scaling;

/// Shape of one pivot's share of the factors: `upper` entries of its row and `lower` entries of its column beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Block {
    pub(super) upper: u32,
    pub(super) lower: u32,
}

impl Block {
    pub(super) fn len(self) -> usize {
        1 + (self.upper + self.lower) as usize
    }

    pub(super) fn updates(self) -> usize {
        (self.upper * self.lower) as usize
    }
}

/// Rows of a matrix that counts as small. Own choice by measurement.
pub(super) const SMALL: usize = 128;

/// What a pivot is measured by.
#[derive(Clone, Copy, Debug)]
pub(super) struct Watch {
    /// Largest size since its rounding errors were last looked at.
    pub(super) seen: f64,
    /// Part of its row or its column that it must reach.
    pub(super) part: f64,
    /// Size that its updates may have.
    pub(super) growth: f64,
}

/// Pivot order, factors and scales of one analysis.
///
/// Arrays run in the order of the steps, one after the other, so that they are read as streams.
#[derive(Clone, Debug)]
pub(super) struct Schedule {
    /// Steps before the dense square.
    pub(super) runs: Vec<Run>,
    pub(super) sparse: usize,
    /// Rows of the dense square.
    pub(super) dense: usize,
    /// Inverse pivots of the sparse steps; the rest of their rows, already multiplied by these; the rest of their columns,
    /// divided by the pivots; the dense square.
    pub(super) factors: Vec<f64>,
    /// Where these parts begin after the first.
    pub(super) upper_start: usize,
    pub(super) lower_start: usize,
    pub(super) dense_start: usize,
    /// Step of the column of each upper and of the row of each lower entry.
    pub(super) upper_steps: Vec<u32>,
    pub(super) lower_steps: Vec<u32>,
    /// Of a small matrix the lower entries once more, row after row: their place in `factors` and the step of their column;
    /// and how many of them each step has. There a solution waits for sums, which stay in a register this way; of a larger
    /// one many sums are under way at once, and these arrays are empty.
    pub(super) left: Vec<(u32, u32)>,
    pub(super) left_counts: Vec<u32>,
    /// Upper entries of each sparse step of a small matrix.
    pub(super) upper_counts: Vec<u32>,
    /// Place in `factors` updated by each multiply-subtract.
    pub(super) targets: Vec<u32>,
    /// Slot of each factor before the dense square, and the exponent of its scale as a number has it; 0, a scale of
    /// nothing, where the matrix has no entry.
    pub(super) slots: Vec<u32>,
    pub(super) exponents: Vec<u16>,
    /// Place, slot and exponent of each entry in the dense square.
    pub(super) dense_slots: Vec<(u32, u32, u16)>,
    /// Row, column and their scales of each pivot.
    pub(super) pivot_rows: Vec<u32>,
    pub(super) pivot_columns: Vec<u32>,
    pub(super) row_scales: Vec<f64>,
    pub(super) column_scales: Vec<f64>,
    pub(super) watches: Vec<Watch>,
    /// Room for the rounding errors that an inspection follows; empty before the first.
    pub(super) noise: Vec<Noise>,
    pub(super) work: Vec<f64>,
    /// Room for the columns of a panel of the dense square.
    pub(super) columns: Vec<[f64; PANEL]>,
}

/// What the analysis recorded, pivot by pivot.
pub(super) struct Record<'a> {
    pub(super) entries: &'a [Entry],
    pub(super) blocks: &'a [Block],
    /// Every entry once: pivot, rest of its row, rest of its column, next pivot.
    pub(super) order: &'a [u32],
    /// Entries updated: lower entry by lower entry, upper entry by upper entry.
    pub(super) targets: &'a [u32],
}

impl Schedule {
    /// Turns the record into flat index arrays.
    pub(super) fn compile(pattern: &Pattern, scaling: &Scaling, record: &Record) -> Self {
        let Record { entries, blocks, order, targets } = record;
        let n = blocks.len();
        let dense = dense_tail(blocks);
        let sparse = n - dense;
        let starts = sums(blocks.iter().map(|block| block.len()));
        let target_starts = sums(blocks.iter().map(|block| block.updates()));
        let of_block = |k: usize| &order[starts[k]..starts[k + 1]];
        // Steps by the analysis, then steps in the new order.
        let steps = |heads: &mut dyn Iterator<Item = u32>| {
            let (mut row_step, mut column_step) = (vec![0u32; n], vec![0u32; n]);
            for (step, head) in heads.enumerate() {
                let pivot = &entries[head as usize];
                row_step[pivot.row as usize] = step as u32;
                column_step[pivot.column as usize] = step as u32;
            }
            (row_step, column_step)
        };
        let (row_step, column_step) = steps(&mut (0..n).map(|k| order[starts[k]]));
        let mut later = Vec::with_capacity(order.len());
        let mut later_starts = vec![0u32];
        for (k, block) in blocks[..sparse].iter().enumerate() {
            let (upper, lower) = of_block(k)[1..].split_at(block.upper as usize);
            later.extend(upper.iter().map(|&id| column_step[entries[id as usize].column as usize]));
            later.extend(lower.iter().map(|&id| row_step[entries[id as usize].row as usize]));
            later_starts.push(later.len() as u32);
        }
        let mut walk = arrange(&blocks[..sparse], &later, &later_starts);
        walk.extend(sparse as u32..n as u32);
        let (row_step, column_step) = steps(&mut walk.iter().map(|&k| order[starts[k as usize]]));

        let uppers: usize = blocks[..sparse].iter().map(|block| block.upper as usize).sum();
        let lowers: usize = blocks[..sparse].iter().map(|block| block.lower as usize).sum();
        let (upper_start, lower_start, dense_start) = (sparse, sparse + uppers, sparse + uppers + lowers);
        let mut place = vec![0u32; entries.len()];
        let (mut upper_steps, mut lower_steps) = (Vec::with_capacity(uppers), Vec::with_capacity(lowers));
        for (step, &k) in walk[..sparse].iter().enumerate() {
            let (head, others) = of_block(k as usize).split_at(1);
            let (upper, lower) = others.split_at(blocks[k as usize].upper as usize);
            place[head[0] as usize] = step as u32;
            for &id in upper {
                place[id as usize] = (upper_start + upper_steps.len()) as u32;
                upper_steps.push(column_step[entries[id as usize].column as usize]);
            }
            for &id in lower {
                place[id as usize] = (lower_start + lower_steps.len()) as u32;
                lower_steps.push(row_step[entries[id as usize].row as usize]);
            }
        }
        for &id in &order[starts[sparse]..] {
            let entry = &entries[id as usize];
            let (i, j) = (row_step[entry.row as usize] as usize, column_step[entry.column as usize] as usize);
            place[id as usize] = (dense_start + (i - sparse) * dense + (j - sparse)) as u32;
        }
        let updates = walk[..sparse].iter().flat_map(|&k| target_starts[k as usize]..target_starts[k as usize + 1]);
        let targets = updates.map(|at| place[targets[at] as usize]).collect();

        let mut rows = vec![Vec::new(); if n <= SMALL { n } else { 0 }];
        if n <= SMALL {
            let columns =
                walk[..sparse].iter().zip(0..).flat_map(|(&k, step)| vec![step; blocks[k as usize].lower as usize]);
            for ((&row, column), place) in lower_steps.iter().zip(columns).zip(lower_start as u32..) {
                rows[row as usize].push((place, column));
            }
        }

        // Entries of the matrix are numbered by their slots, before the fill.
        let (mut slots, mut dense_slots) = (vec![0; dense_start], Vec::new());
        let mut exponents = vec![0; dense_start];
        for (i, j, slot) in pattern.entries() {
            let (at, exponent) = (place[slot] as usize, scaling.exponent(i, j));
            if at < dense_start {
                slots[at] = slot as u32;
                exponents[at] = exponent;
            } else {
                dense_slots.push((at as u32, slot as u32, exponent));
            }
        }
        let heads = || walk.iter().map(|&k| &entries[order[starts[k as usize]] as usize]);
        let mut schedule = Self {
            runs: runs(walk[..sparse].iter().map(|&k| blocks[k as usize])),
            sparse,
            dense,
            factors: vec![0.0; dense_start + dense * dense],
            upper_start,
            lower_start,
            dense_start,
            upper_steps,
            lower_steps,
            left_counts: rows.iter().map(|row| row.len() as u32).collect(),
            left: rows.concat(),
            upper_counts: walk[..if n <= SMALL { sparse } else { 0 }]
                .iter()
                .map(|&k| blocks[k as usize].upper)
                .collect(),
            targets,
            slots,
            exponents,
            dense_slots,
            pivot_rows: heads().map(|head| head.row).collect(),
            pivot_columns: heads().map(|head| head.column).collect(),
            row_scales: vec![0.0; n],
            column_scales: vec![0.0; n],
            watches: heads().map(|head| Watch { seen: head.value.abs(), part: 0.0, growth: 0.0 }).collect(),
            noise: Vec::new(),
            work: vec![0.0; n],
            columns: Vec::with_capacity(dense),
        };
        schedule.scale_lines(scaling);
        schedule
    }

    /// Scales for other values; the pivots stay.
    pub(super) fn rescale(&mut self, pattern: &Pattern, scaling: &Scaling) {
        let column_of = columns(pattern);
        let exponent = |slot: u32| scaling.exponent(pattern.row(slot as usize), column_of[slot as usize] as usize);
        for (old, &slot) in self.exponents.iter_mut().zip(&self.slots) {
            // Fill shares slot 0 with an entry, but is never anything but nothing.
            if *old != 0 {
                *old = exponent(slot);
            }
        }
        self.dense_slots.iter_mut().for_each(|(_, slot, old)| *old = exponent(*slot));
        self.scale_lines(scaling);
        // Sizes under the old scales say nothing any more.
        self.watches.iter_mut().for_each(|watch| watch.seen = 0.0);
    }

    fn scale_lines(&mut self, scaling: &Scaling) {
        for step in 0..self.pivot_rows.len() {
            self.row_scales[step] = scaling.rows[self.pivot_rows[step] as usize];
            self.column_scales[step] = scaling.columns[self.pivot_columns[step] as usize];
        }
    }
}

/// Beginnings of consecutive parts of these lengths, and the end.
fn sums(lengths: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut sum = 0;
    std::iter::once(0)
        .chain(lengths.map(|length| {
            sum += length;
            sum
        }))
        .collect()
}

/// Column of each slot.
fn columns(pattern: &Pattern) -> Vec<u32> {
    pattern.entries().map(|(_, column, _)| column as u32).collect()
}
