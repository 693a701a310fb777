//! Dense elimination with complete pivoting: slow, plain, and independent of the code under test.

use stallpoint_solve::sparse::Pattern;

/// Solves `A x = b`; `None` if a pivot is zero.
pub fn solve(pattern: &Pattern, values: &[f64], b: &[f64]) -> Option<Vec<f64>> {
    let n = b.len();
    let mut a = vec![vec![0.0; n + 1]; n];
    for (i, j, slot) in pattern.entries() {
        a[i][j] = values[slot];
    }
    for i in 0..n {
        a[i][n] = b[i];
    }
    let mut columns: Vec<usize> = (0..n).collect();
    for k in 0..n {
        let places = (k..n).flat_map(|i| (k..n).map(move |j| (i, j)));
        let (p, q) = places.max_by(|x, y| a[x.0][x.1].abs().total_cmp(&a[y.0][y.1].abs()))?;
        if a[p][q] == 0.0 {
            return None;
        }
        a.swap(k, p);
        a.iter_mut().for_each(|row| row.swap(k, q));
        columns.swap(k, q);
        for i in k + 1..n {
            let l = a[i][k] / a[k][k];
            for j in k..=n {
                a[i][j] -= l * a[k][j];
            }
        }
    }
    let mut x = vec![0.0; n];
    for k in (0..n).rev() {
        let sum: f64 = (k + 1..n).map(|j| a[k][j] * x[columns[j]]).sum();
        x[columns[k]] = (a[k][n] - sum) / a[k][k];
    }
    Some(x)
}

/// `‖A x − b‖ / (‖A‖ ‖x‖ + ‖b‖)` in the maximum norm.
pub fn residual(pattern: &Pattern, values: &[f64], x: &[f64], b: &[f64]) -> f64 {
    let n = b.len();
    let mut y = vec![0.0; n];
    pattern.multiply(values, x, &mut y);
    let mut sums = vec![0.0; n];
    for (i, _, slot) in pattern.entries() {
        sums[i] += f64::abs(values[slot]);
    }
    let top = |v: &[f64]| v.iter().fold(0.0, |m: f64, a| if a.is_nan() { *a } else { m.max(a.abs()) });
    let error: Vec<f64> = y.iter().zip(b).map(|(y, b)| y - b).collect();
    let scale = top(&sums) * top(x) + top(b);
    if scale == 0.0 { top(&error) } else { top(&error) / scale }
}
