//! The last pivots, kept as a dense square row by row: no indices, and arithmetic that the compiler vectorises.

/// Pivots whose updates are made together, so that the rest of the square passes through the cache less often.
pub(super) const PANEL: usize = 8;

/// Eliminates in place along the diagonal: below it the multipliers, on it the inverse pivots, above it the rows as they
/// were at their pivot.
///
/// `judge` is given step, pivot, and the sums of its row and column; false ends with the step. `columns` is room.
pub(super) fn eliminate(
    square: &mut [f64],
    m: usize,
    columns: &mut Vec<[f64; PANEL]>,
    mut judge: impl FnMut(usize, f64, f64, f64) -> bool,
) -> Result<(), usize> {
    for start in (0..m).step_by(PANEL) {
        let end = (start + PANEL).min(m);
        let (above, below) = square.split_at_mut(end * m);
        let panel = &mut above[start * m..];
        // The panel's columns below it, side by side: in the square they lie a row apart.
        columns.clear();
        let place = start..start + PANEL;
        columns.extend(below.chunks_exact(m).filter_map(|row| row.get(place.clone())?.first_chunk().copied()));
        for k in 0..end - start {
            let (upper, lower) = panel.split_at_mut((k + 1) * m);
            let row = &mut upper[k * m + start..];
            let pivot = row[k];
            let down = lower.chunks_exact(m).map(|other| other[start + k].abs()).sum::<f64>() + down(columns, k);
            if !judge(start + k, pivot, sum(&row[k + 1..]), down) {
                return Err(start + k);
            }
            let inverse = 1.0 / pivot;
            row[k] = inverse;
            for other in lower.chunks_exact_mut(m) {
                let l = other[start + k] * inverse;
                other[start + k] = l;
                // In full width: the later rows of the panel are judged whole.
                subtract(&mut other[start + k + 1..], l, &row[k + 1..]);
            }
            for other in &mut *columns {
                let l = other[k] * inverse;
                other[k] = l;
                subtract(&mut other[k + 1..], l, &row[k + 1..]);
            }
        }
        for (other, l) in below.chunks_exact_mut(m).zip(&*columns) {
            let (front, rest) = other.split_at_mut(end);
            front[start..].copy_from_slice(l);
            update(rest, l, std::array::from_fn(|k| &panel[k * m + end..(k + 1) * m]));
        }
    }
    Ok(())
}

/// Subtracts a panel's rows, each times its multiplier, one after the other.
fn update(values: &mut [f64], l: &[f64; PANEL], rows: [&[f64]; PANEL]) {
    let rows = rows.map(|row| &row[..values.len()]);
    // Written plainly, neighbouring values share a vector register; in fours the compiler goes astray.
    for (j, value) in values.iter_mut().enumerate() {
        let mut sum = *value;
        for k in 0..PANEL {
            sum -= l[k] * rows[k][j];
        }
        *value = sum;
    }
}

/// Sum of the sizes in one column.
fn down(columns: &[[f64; PANEL]], k: usize) -> f64 {
    let (fours, last) = columns.as_chunks::<4>();
    fold(fours.iter().map(|four| four.map(|row| row[k].abs()))) + last.iter().map(|row| row[k].abs()).sum::<f64>()
}

/// Solves with the factors of [`eliminate`].
pub(super) fn solve(square: &[f64], m: usize, x: &mut [f64]) {
    for (i, row) in square.chunks_exact(m).enumerate() {
        let (done, rest) = x.split_at_mut(i);
        rest[0] -= dot(&row[..i], done);
    }
    for (i, row) in square.chunks_exact(m).enumerate().rev() {
        let (front, done) = x.split_at_mut(i + 1);
        front[i] = (front[i] - dot(&row[i + 1..], done)) * row[i];
    }
}

pub(super) fn subtract(values: &mut [f64], l: f64, row: &[f64]) {
    values.iter_mut().zip(row).for_each(|(value, u)| *value -= l * u);
}

/// Sum of the sizes.
pub(super) fn sum(values: &[f64]) -> f64 {
    fold(values.chunks_exact(4).map(|four| [0, 1, 2, 3].map(|k| four[k].abs())))
        + values.chunks_exact(4).remainder().iter().map(|value| value.abs()).sum::<f64>()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (fours, others) = (a.as_chunks::<4>(), b.as_chunks::<4>());
    let rest: f64 = fours.1.iter().zip(others.1).map(|(a, b)| a * b).sum();
    fold(fours.0.iter().zip(others.0).map(|(a, b)| [0, 1, 2, 3].map(|k| a[k] * b[k]))) + rest
}

/// Four sums that need not wait for each other.
fn fold(terms: impl Iterator<Item = [f64; 4]>) -> f64 {
    let sums = terms.fold([0.0; 4], |sums, term| [0, 1, 2, 3].map(|k| sums[k] + term[k]));
    (sums[0] + sums[1]) + (sums[2] + sums[3])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_factors_of_any_size() {
        // Around multiples of the panel; diagonally dominant, whole numbers as solution.
        for m in [1, 2, 7, 8, 9, 16, 21] {
            let a: Vec<f64> =
                (0..m * m).map(|k| if k / m == k % m { 4.0 * m as f64 } else { ((7 * k) % 11) as f64 / 8.0 }).collect();
            let expected: Vec<f64> = (0..m).map(|i| i as f64 - 3.0).collect();
            let mut x: Vec<f64> = a.chunks(m).map(|row| row.iter().zip(&expected).map(|(a, x)| a * x).sum()).collect();
            let mut square = a.clone();
            assert_eq!(eliminate(&mut square, m, &mut Vec::new(), |_, _, _, _| true), Ok(()));
            solve(&square, m, &mut x);
            assert!(x.iter().zip(&expected).all(|(x, e)| (x - e).abs() < 1e-13), "{x:?}");
        }
    }

    #[test]
    fn exact_rows_and_columns_are_judged_at_their_step() {
        let mut square = [2.0, 1.0, 4.0, 3.0];
        let mut seen = Vec::new();
        let _ = eliminate(&mut square, 2, &mut Vec::new(), |step, pivot, across, down| {
            seen.push((step, pivot, across, down));
            true
        });
        assert_eq!(seen, [(0, 2.0, 1.0, 4.0), (1, 1.0, 0.0, 0.0)]);
        assert_eq!(eliminate(&mut [0.0; 4], 2, &mut Vec::new(), |_, pivot, _, _| pivot != 0.0), Err(0));
    }
}
