//! Row and column scales, powers of two, that bring the largest entry of each line near one.

use super::pattern::Pattern;

/// Scales beyond 2^±1000 are cut there to stay normal numbers.
const WIDEST: i32 = 1000;

pub(super) struct Scaling {
    pub(super) rows: Vec<f64>,
    pub(super) columns: Vec<f64>,
}

impl Scaling {
    /// Scale of one entry, finite even where both of its lines hold next to nothing.
    pub(super) fn of(&self, row: usize, column: usize) -> f64 {
        (self.rows[row] * self.columns[column]).min(f64::MAX)
    }
}

/// Equilibrates: half-steps on rows and columns at once (Ruiz 2001) to treat both alike, then one
/// exact pass over the rows and one over the columns.
///
/// Powers of two change no bit of the mantissas.
pub(super) fn equilibrate(pattern: &Pattern, values: &[f64]) -> Scaling {
    let n = pattern.n();
    let mut rows = vec![0i32; n];
    let mut columns = vec![0i32; n];
    let mut row_top = vec![i32::MIN; n];
    let mut column_top = vec![i32::MIN; n];
    let mut measure = |rows: &[i32], columns: &[i32]| {
        row_top.fill(i32::MIN);
        column_top.fill(i32::MIN);
        for (i, j, slot) in pattern.entries() {
            if values[slot] != 0.0 {
                let size = exponent(values[slot]) + rows[i] + columns[j];
                row_top[i] = row_top[i].max(size);
                column_top[j] = column_top[j].max(size);
            }
        }
        (row_top.clone(), column_top.clone())
    };
    for _ in 0..5 {
        let (row_top, column_top) = measure(&rows, &columns);
        lower(&mut rows, &row_top, |top| top / 2);
        lower(&mut columns, &column_top, |top| top / 2);
    }
    let (row_top, _) = measure(&rows, &columns);
    lower(&mut rows, &row_top, |top| top);
    let (_, column_top) = measure(&rows, &columns);
    lower(&mut columns, &column_top, |top| top);
    let power = |e: i32| 2f64.powi(e.clamp(-WIDEST, WIDEST));
    Scaling { rows: rows.into_iter().map(power).collect(), columns: columns.into_iter().map(power).collect() }
}

fn lower(scale: &mut [i32], top: &[i32], step: impl Fn(i32) -> i32) {
    for (scale, &top) in scale.iter_mut().zip(top) {
        // A line of zeros has no size and keeps its scale.
        if top != i32::MIN {
            *scale -= step(top);
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
        let scaling = equilibrate(&pattern, &values);
        for j in 0..2 {
            let top = (0..2).map(|i| values[2 * j + i] * scaling.rows[i] * scaling.columns[j]).fold(0.0, f64::max);
            assert!((1.0..2.0).contains(&top), "{top}");
        }
    }
}
