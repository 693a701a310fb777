//! A small dense linear system.

/// Solves rows of coefficients, each followed by its right-hand side; none when singular.
pub(crate) fn solve(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = rows.len();
    for k in 0..n {
        let pivot = (k..n).max_by(|&a, &b| rows[a][k].abs().total_cmp(&rows[b][k].abs()))?;
        rows.swap(k, pivot);
        if !(rows[k][k].abs() > 0.0) {
            return None;
        }
        for below in k + 1..n {
            let factor = rows[below][k] / rows[k][k];
            for column in k..=n {
                let value = rows[k][column];
                rows[below][column] -= factor * value;
            }
        }
    }
    let mut x = vec![0.0; n];
    for k in (0..n).rev() {
        let known: f64 = (k + 1..n).map(|column| rows[k][column] * x[column]).sum();
        x[k] = (rows[k][n] - known) / rows[k][k];
    }
    x.iter().all(|value| value.is_finite()).then_some(x)
}
