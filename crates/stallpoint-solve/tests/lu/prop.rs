//! Random sparse matrices against dense elimination.

use proptest::prelude::*;
use stallpoint_solve::sparse::{FactorError, Lu, Pattern};

use crate::dense;
use crate::samples::{Random, some_vector};

/// A hidden permutation makes the matrix structurally regular; the diagonal has no special place.
fn weak_pattern(n: usize, extra: usize, random: &mut Random) -> Pattern {
    let mut permutation: Vec<usize> = (0..n).collect();
    for i in (1..n).rev() {
        permutation.swap(i, random.below(i + 1));
    }
    let hidden = permutation.into_iter().enumerate();
    let more: Vec<_> = (0..extra).map(|_| (random.below(n), random.below(n))).collect();
    Pattern::from_entries(n, hidden.chain(more)).unwrap()
}

/// Row sizes over `decades`, entries within a row over three; some entries exactly zero.
fn weak_values(pattern: &Pattern, decades: f64, zeros: f64, random: &mut Random) -> Vec<f64> {
    let rows: Vec<f64> = (0..pattern.n()).map(|_| random.decades(0.0, decades).abs()).collect();
    let entry = |(i, _, _): (usize, usize, usize)| {
        let size = random.decades(-3.0, 0.0);
        if random.unit() < zeros { 0.0 } else { rows[i] * size }
    };
    pattern.entries().map(entry).collect()
}

/// `‖A x − b‖` after dividing each row by its largest entry, relative.
fn row_residual(pattern: &Pattern, values: &[f64], x: &[f64], b: &[f64]) -> f64 {
    let mut top = vec![0.0f64; b.len()];
    for (i, _, slot) in pattern.entries() {
        top[i] = top[i].max(values[slot].abs());
    }
    let scaled: Vec<f64> = pattern.entries().map(|(i, _, slot)| values[slot] / top[i]).collect();
    let b: Vec<f64> = b.iter().zip(&top).map(|(b, top)| b / top).collect();
    dense::residual(pattern, &scaled, x, &b)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    /// Many value sets on one pattern: first choice, refactorisations and new choices alike.
    #[test]
    fn prop_residual_is_small(n in 1usize..50, density in 0usize..4, seed: u64, decades in 0.0..12.0) {
        let mut random = Random(seed);
        let pattern = weak_pattern(n, n * density, &mut random);
        let mut lu = Lu::new(&pattern).unwrap();
        let mut solved = 0;
        for _ in 0..8 {
            let values = weak_values(&pattern, decades, 0.0, &mut random);
            let b = some_vector(n, &mut random);
            match lu.factor(&values) {
                // Random values seldom come within rounding errors of singular, but they may.
                Err(FactorError::Singular { .. }) => continue,
                other => prop_assert_eq!(other, Ok(())),
            }
            solved += 1;
            let mut x = b.clone();
            lu.solve(&mut x);
            let residual = dense::residual(&pattern, &values, &x, &b);
            prop_assert!(residual <= 1e-12, "{:e}", residual);
            let residual = row_residual(&pattern, &values, &x, &b);
            prop_assert!(residual <= 1e-12, "by rows {:e}", residual);
        }
        prop_assert!(solved >= 6, "{} of 8 called regular", solved);
    }

    /// Agrees with dense elimination where the matrix is well conditioned: a strong hidden permutation.
    #[test]
    fn prop_agrees_with_dense(n in 1usize..40, density in 0usize..4, seed: u64) {
        let mut random = Random(seed);
        let pattern = weak_pattern(n, n * density, &mut random);
        let values: Vec<f64> = pattern.entries().map(|_| random.decades(-1.0, 0.0)).collect();
        let b = some_vector(n, &mut random);
        let (Some(expected), Ok(mut lu)) = (dense::solve(&pattern, &values, &b), Lu::new(&pattern)) else {
            return Ok(());
        };
        // The dense solution of a perturbed system measures the condition.
        let shaken: Vec<f64> = values.iter().map(|v| v * (1.0 + 1e-12 * (random.unit() - 0.5))).collect();
        let Some(near) = dense::solve(&pattern, &shaken, &b) else { return Ok(()) };
        let top = expected.iter().fold(0.0f64, |m, v| m.max(v.abs()));
        let shift = expected.iter().zip(&near).fold(0.0f64, |m, (a, b)| m.max((a - b).abs()));
        prop_assume!(shift <= 1e-7 * top);
        prop_assert_eq!(lu.factor(&values), Ok(()));
        let mut x = b.clone();
        lu.solve(&mut x);
        for (x, e) in x.iter().zip(&expected) {
            prop_assert!((x - e).abs() <= 100.0 * shift + 1e-12 * top, "{} {}", x, e);
        }
    }

    /// Entries that are exactly zero come and go: pivots vanish, some matrices are singular.
    #[test]
    fn prop_vanishing_pivots(n in 2usize..25, seed: u64) {
        let mut random = Random(seed);
        let pattern = weak_pattern(n, 3 * n, &mut random);
        let mut lu = Lu::new(&pattern).unwrap();
        for _ in 0..10 {
            let values = weak_values(&pattern, 2.0, 0.3, &mut random);
            let kept = pattern.entries().filter(|e| values[e.2] != 0.0).map(|e| (e.0, e.1));
            let rank = Lu::new(&Pattern::from_entries(n, kept).unwrap()).is_ok();
            let b = some_vector(n, &mut random);
            match lu.factor(&values) {
                Ok(()) => {
                    prop_assert!(rank, "called regular though no values could make it so");
                    let mut x = b.clone();
                    lu.solve(&mut x);
                    let residual = dense::residual(&pattern, &values, &x, &b);
                    prop_assert!(residual <= 1e-12, "{:e}", residual);
                }
                Err(FactorError::Singular { row, column }) => {
                    prop_assert!(row < n && column < n);
                    prop_assert!(!rank, "called singular though random values fill its rank");
                }
                Err(other) => prop_assert!(false, "{}", other),
            }
        }
    }
}
