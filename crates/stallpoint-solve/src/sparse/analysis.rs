//! Choice of the pivots: Markowitz cost under a threshold, on the scaled matrix.
//!
//! Source of the method: Duff, Erisman and Reid, "Direct Methods for Sparse Matrices", ch. 5 and 7
//! (from memory).

use super::active::Active;
use super::buckets::{Buckets, NONE};
use super::errors::FactorError;
use super::noise::{self, Dice};
use super::pattern::Pattern;
use super::scaling::Scaling;
use super::schedule::{Block, Record, Schedule};

/// A pivot must reach this part of the largest entry of its column or of its row, unless its updates stay below the limit of
/// growth. Own choices by measurement: in a large network 0.1 left residuals ten times larger at 100,000 unknowns.
const THRESHOLD: f64 = 0.3;
const THRESHOLD_SMALL: f64 = 0.1;
/// Updates of this size are harmless on a matrix scaled to entries near one: two of sixteen digits. Own choices by measurement: in a
/// large network 10 forbade so many cheap pivots that the factors of a bushy one grew by a third; a small one has no fill to
/// save, and Newton's method stops short of tight tolerances where digits are lost.
const GROWTH: f64 = 100.0;
const GROWTH_SMALL: f64 = 10.0;
/// Rows and columns looked at per step once a pivot is at hand. Own choice by measurement: 4 leave more fill, 16 take twice
/// the time for 2 % less.
const LOOKS: usize = 8;

#[derive(Clone, Copy)]
struct Candidate {
    id: u32,
    /// Upper bound of the fill (other entries of the row times other entries of the column), and in a small matrix how many
    /// pivots before it a solution must wait for, one after the other: the processor overlaps those that need not wait.
    cost: u64,
    /// Diagonal entries win a tie: where they dominate now, they often do for all values.
    off_diagonal: bool,
    /// Upper bound of its updates.
    growth: f64,
}

struct Analysis {
    active: Active,
    rows: Buckets,
    columns: Buckets,
    /// First row and column found to hold nothing but rounding errors.
    dead_row: Option<usize>,
    dead_column: Option<usize>,
    blocks: Vec<Block>,
    /// Entries in the order of the factors: pivot, rest of its row, rest of its column, next pivot.
    order: Vec<u32>,
    /// Entries updated, pivot by pivot, lower entry by lower entry, upper entry by upper entry.
    targets: Vec<u32>,
    /// Room for the entries of one row or column.
    line: Vec<u32>,
    dice: Dice,
}

/// Eliminates the matrix once, recording what is done.
pub(super) fn analyse(pattern: &Pattern, values: &[f64], scaling: &Scaling) -> Result<Schedule, FactorError> {
    let n = pattern.n();
    let scaled: Vec<f64> = pattern.entries().map(|(i, j, slot)| values[slot] * scaling.of(i, j)).collect();
    let active = Active::new(pattern, &scaled);
    let mut analysis = Analysis {
        rows: Buckets::new(&active.row_counts),
        columns: Buckets::new(&active.column_counts),
        active,
        dead_row: None,
        dead_column: None,
        blocks: Vec::with_capacity(n),
        order: Vec::with_capacity(2 * pattern.nonzeros()),
        targets: Vec::with_capacity(pattern.nonzeros()),
        line: Vec::new(),
        dice: Dice::new(),
    };
    let (mut upper, mut lower) = (Vec::new(), Vec::new());
    for _ in 0..n {
        match analysis.choose() {
            Some(pivot) => analysis.eliminate(pivot, &mut upper, &mut lower),
            None => return Err(analysis.singular()),
        }
    }
    let Analysis { active, blocks, order, targets, .. } = analysis;
    let record = Record { entries: &active.entries, blocks: &blocks, order: &order, targets: &targets };
    Ok(Schedule::compile(pattern, scaling, &record))
}

impl Analysis {
    fn choose(&mut self) -> Option<u32> {
        let mut best: Option<Candidate> = None;
        let mut looks = 0;
        let longest = self.active.row_counts.len();
        for count in 1..=longest {
            let others = count as u64 - 1;
            // Lines this long cannot beat the best any more.
            let enough = |best: &Option<Candidate>, looks: usize, bound: u64| {
                best.is_some_and(|best| best.cost <= bound || looks >= LOOKS)
            };
            for by_column in [true, false] {
                let bound = if by_column { others * others } else { others * count as u64 };
                let buckets = if by_column { &self.columns } else { &self.rows };
                let mut line = buckets.first(count);
                while line != NONE {
                    if enough(&best, looks, bound) {
                        return best.map(|best| best.id);
                    }
                    let buckets = if by_column { &self.columns } else { &self.rows };
                    let next = buckets.next(line);
                    self.look(line as usize, by_column, &mut best);
                    looks += 1;
                    line = next;
                }
            }
            if enough(&best, looks, others * count as u64) {
                break;
            }
        }
        best.map(|best| best.id)
    }

    /// Offers the acceptable entries of one line.
    fn look(&mut self, line: usize, by_column: bool, best: &mut Option<Candidate>) {
        let active = &self.active;
        self.line.clear();
        if by_column {
            self.line.extend(active.column(line));
        } else {
            self.line.extend(active.row(line));
        }
        let top = active.largest(self.line.iter().copied());
        let mut any_clear = false;
        for &id in &self.line {
            let entry = &active.entries[id as usize];
            any_clear |= entry.is_clear();
        }
        if !any_clear {
            // Later updates add only multiples of other rounding errors: the line stays dead.
            if by_column {
                self.columns.remove(line);
                self.dead_column.get_or_insert(line);
            } else {
                self.rows.remove(line);
                self.dead_row.get_or_insert(line);
            }
            return;
        }
        // Cheapest first: the long lines through a hub are measured only if nothing else serves.
        let small = active.row_counts.len() <= super::schedule::SMALL;
        let (threshold, most) = if small { (THRESHOLD_SMALL, GROWTH_SMALL) } else { (THRESHOLD, GROWTH) };
        let cost = |id: u32| {
            let entry = &active.entries[id as usize];
            let row_others = u64::from(active.row_counts[entry.row as usize]) - 1;
            let column_others = u64::from(active.column_counts[entry.column as usize]) - 1;
            row_others * column_others + if small { active.level(entry.row as usize, entry.column as usize) } else { 0 }
        };
        self.line.sort_by_key(|&id| cost(id));
        for &id in &self.line {
            let entry = &active.entries[id as usize];
            let cost = cost(id);
            if best.is_some_and(|best| best.cost < cost) {
                break;
            }
            if !entry.is_clear() {
                continue;
            }
            let across = if by_column {
                active.largest(active.row(entry.row as usize))
            } else {
                active.largest(active.column(entry.column as usize))
            };
            // Updates are at most this large, where the scaled matrix began with entries near one.
            let growth = top * across / entry.value.abs();
            if growth > most && entry.value.abs() < threshold * top.min(across) {
                continue;
            }
            let rank = (cost, entry.row != entry.column, growth);
            if best.is_none_or(|best| rank < (best.cost, best.off_diagonal, best.growth)) {
                *best = Some(Candidate { id, cost, off_diagonal: rank.1, growth });
            }
        }
    }

    /// Right-looking elimination, in the arithmetic of the later refactorisations but for the order of the steps.
    fn eliminate(&mut self, pivot: u32, upper: &mut Vec<u32>, lower: &mut Vec<u32>) {
        let active = &mut self.active;
        let head = &active.entries[pivot as usize];
        let (row, column) = (head.row as usize, head.column as usize);
        let (inverse, head_noise) = (1.0 / head.value, head.noise);
        upper.clear();
        upper.extend(active.row(row).filter(|&id| id != pivot));
        lower.clear();
        lower.extend(active.column(column).filter(|&id| id != pivot));
        upper.iter().for_each(|&id| active.unlink_from_column(id));
        lower.iter().for_each(|&id| active.unlink_from_row(id));
        self.rows.remove(row);
        self.columns.remove(column);

        self.blocks.push(Block { upper: upper.len() as u32, lower: lower.len() as u32 });
        self.order.push(pivot);
        self.order.extend_from_slice(upper);
        self.order.extend_from_slice(lower);
        let columns: Vec<u32> = upper.iter().map(|&id| active.entries[id as usize].column).collect();
        for &left in lower.iter() {
            let left = &active.entries[left as usize];
            let (row, l) = (left.row, left.value * inverse);
            let l_noise = noise::quotient(&left.noise, l, &head_noise, inverse);
            let first = self.targets.len();
            active.find_or_insert_all(row, columns.iter().copied(), &mut self.targets);
            for (&above, &target) in upper.iter().zip(&self.targets[first..]) {
                let above = &active.entries[above as usize];
                let (u, u_noise) = (above.value, above.noise);
                let entry = &mut active.entries[target as usize];
                entry.value -= l * u;
                noise::update(&mut entry.noise, entry.value, (l, &l_noise), (u, &u_noise), &mut self.dice);
            }
        }
        let level = active.level(row, column) + 1;
        for &left in lower.iter() {
            let i = active.entries[left as usize].row as usize;
            self.rows.place(i, active.row_counts[i]);
            active.row_levels[i] = active.row_levels[i].max(level);
        }
        for &above in upper.iter() {
            let j = active.entries[above as usize].column as usize;
            self.columns.place(j, active.column_counts[j]);
            active.column_levels[j] = active.column_levels[j].max(level);
        }
    }

    fn singular(&self) -> FactorError {
        let row = self.dead_row.or_else(|| self.rows.any()).unwrap_or(0);
        let column = self.dead_column.or_else(|| self.columns.any()).unwrap_or(0);
        FactorError::Singular { row, column }
    }
}
