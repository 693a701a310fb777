//! Row and column scales, powers of two, that bring the largest entry of each line near one.

use super::pattern::Pattern;

/// Scales beyond 2^±1000 are cut there to stay normal numbers.
const WIDEST: i32 = 1000;

/// Scales of rows and columns, with the room to find them.
#[derive(Clone, Debug)]
pub(super) struct Scaling {
    pub(super) rows: Vec<f64>,
    pub(super) columns: Vec<f64>,
    exponents: [Vec<i32>; 2],
    tops: [Vec<i32>; 2],
}

impl Scaling {
    pub(super) fn new(n: usize) -> Self {
        let room = || [vec![0; n], vec![0; n]];
        Self { rows: vec![1.0; n], columns: vec![1.0; n], exponents: room(), tops: room() }
    }

    /// Scale of one entry, finite even where both of its lines hold next to nothing.
    pub(super) fn of(&self, row: usize, column: usize) -> f64 {
        (self.rows[row] * self.columns[column]).min(f64::MAX)
    }

    /// The exponent of [`of`](Self::of) as a normal number has it, 1 to 2046.
    pub(super) fn exponent(&self, row: usize, column: usize) -> u16 {
        let cut = |e: i32| e.clamp(-WIDEST, WIDEST);
        (cut(self.exponents[0][row]) + cut(self.exponents[1][column]) + 1023).clamp(1, 2046) as u16
    }

    /// Equilibrates: half-steps on rows and columns at once (Ruiz 2001) to treat both alike, then one
    /// exact pass over the rows and one over the columns.
    ///
    /// Powers of two change no bit of the mantissas.
    pub(super) fn fit(&mut self, pattern: &Pattern, values: &[f64]) {
        self.exponents.iter_mut().for_each(|exponents| exponents.fill(0));
        for _ in 0..5 {
            self.measure(pattern, values);
            self.lower(0, |top| top / 2);
            self.lower(1, |top| top / 2);
        }
        for side in 0..2 {
            self.measure(pattern, values);
            self.lower(side, |top| top);
        }
        for (scales, exponents) in [&mut self.rows, &mut self.columns].into_iter().zip(&self.exponents) {
            for (scale, &e) in scales.iter_mut().zip(exponents) {
                *scale = 2f64.powi(e.clamp(-WIDEST, WIDEST));
            }
        }
    }

    /// The largest binary exponent of each row and column under the present scales.
    fn measure(&mut self, pattern: &Pattern, values: &[f64]) {
        let [rows, columns] = &self.exponents;
        let [row_tops, column_tops] = &mut self.tops;
        row_tops.fill(i32::MIN);
        column_tops.fill(i32::MIN);
        for (i, j, slot) in pattern.entries() {
            if values[slot] != 0.0 {
                let size = exponent(values[slot]) + rows[i] + columns[j];
                row_tops[i] = row_tops[i].max(size);
                column_tops[j] = column_tops[j].max(size);
            }
        }
    }

    fn lower(&mut self, side: usize, step: impl Fn(i32) -> i32) {
        for (scale, &top) in self.exponents[side].iter_mut().zip(&self.tops[side]) {
            // A line of zeros has no size and keeps its scale.
            if top != i32::MIN {
                *scale -= step(top);
            }
        }
    }
}

/// Binary exponent of a finite number; subnormal numbers count as the smallest normal ones.
fn exponent(value: f64) -> i32 {
    ((value.to_bits() >> 52) & 0x7ff) as i32 - 1023
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lines_end_near_one() {
        let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 0), (1, 1)]).unwrap();
        let values = [1e12, 1.0, 3e12, 5e-9];
        let mut scaling = Scaling::new(2);
        scaling.fit(&pattern, &values);
        for j in 0..2 {
            let top = (0..2).map(|i| values[2 * j + i] * scaling.rows[i] * scaling.columns[j]).fold(0.0, f64::max);
            assert!((1.0..2.0).contains(&top), "{top}");
        }
    }
}
