//! Large harnesses: pivots are kept while they serve, chosen anew when they do not, and answers are good.

use stallpoint_solve::sparse::{Lu, Pattern};

use crate::dense;
use crate::samples::{Harness, Random, some_vector};

/// Factorises, solves, and asserts a residual of `1e-12` of `|A| |x| + |b|`.
fn solve(lu: &mut Lu, pattern: &Pattern, values: &[f64], random: &mut Random) {
    let b = some_vector(pattern.n(), random);
    lu.factor(values).unwrap();
    let mut x = b.clone();
    lu.solve(&mut x);
    let residual = dense::residual(pattern, values, &x, &b);
    assert!(residual <= 1e-12, "{residual:e}");
}

/// The same and slightly other values take the short way, at any size.
///
/// Limits of growth fixed beforehand once refused, at every call, the very pivots just chosen.
fn keeps_its_pivots(size: usize, deep: bool) {
    let mut random = Random(size as u64);
    let harness = Harness::new(size, deep, &mut random);
    let values = harness.values(1e-4, 0.0, &mut random);
    let mut lu = Lu::new(&harness.pattern).unwrap();
    for _ in 0..3 {
        solve(&mut lu, &harness.pattern, &values, &mut random);
        assert_eq!((lu.repivots(), lu.rescales()), (0, 0), "the same values");
    }
    for _ in 0..2 {
        let values = harness.values(1.2e-4, 0.1, &mut random);
        solve(&mut lu, &harness.pattern, &values, &mut random);
        assert_eq!(lu.repivots(), 0, "every value a tenth off at most");
    }
    assert_eq!(lu.factorisations(), 5);
}

#[test]
fn prop_small_harness_keeps_its_pivots() {
    for size in [30, 100, 300, 1000, 3000] {
        keeps_its_pivots(size, false);
        keeps_its_pivots(size, true);
    }
}

#[test]
fn prop_bushy_harness_of_30_000_keeps_its_pivots() {
    keeps_its_pivots(30_000, false);
}

#[test]
fn prop_deep_harness_of_30_000_keeps_its_pivots() {
    keeps_its_pivots(30_000, true);
}

#[test]
fn prop_deep_harness_of_100_000_keeps_its_pivots() {
    keeps_its_pivots(100_000, true);
}

/// Steps from a nanosecond to a second: whatever the pivots, answers stay good, and a new choice holds for its values.
#[test]
fn prop_any_step_is_solved() {
    let mut random = Random(21);
    for deep in [false, true] {
        let harness = Harness::new(5000, deep, &mut random);
        let mut lu = Lu::new(&harness.pattern).unwrap();
        for step in [1e-4, 1e-9, 1.0, 1e-6, 1e-2, 1e-9] {
            let values = harness.values(step, 0.2, &mut random);
            solve(&mut lu, &harness.pattern, &values, &mut random);
            let before = (lu.repivots(), lu.rescales());
            solve(&mut lu, &harness.pattern, &values, &mut random);
            assert_eq!((lu.repivots(), lu.rescales()), before, "step {step}");
        }
    }
}

/// Values that make the old pivots useless are met by new ones, once.
#[test]
fn exact_pivots_that_vanish_in_a_large_matrix_are_chosen_anew_once() {
    // Pairs [a 1; 1 a] in a chain: the diagonal serves for a = 10; for a = 1e-9 only the others do.
    let n = 30_000;
    let pairs = (0..n).step_by(2).flat_map(|i| [(i, i), (i, i + 1), (i + 1, i), (i + 1, i + 1)]);
    let links = (2..n).step_by(2).map(|i| (i, i - 1));
    let pattern = Pattern::from_entries(n, pairs.chain(links)).unwrap();
    let values = |a: f64| -> Vec<f64> {
        let of = |i: usize, j: usize| {
            if i == j {
                a
            } else if i / 2 == j / 2 {
                1.0
            } else {
                0.25
            }
        };
        pattern.entries().map(|(i, j, _)| of(i, j)).collect()
    };
    let mut random = Random(22);
    let mut lu = Lu::new(&pattern).unwrap();
    solve(&mut lu, &pattern, &values(10.0), &mut random);
    solve(&mut lu, &pattern, &values(9.0), &mut random);
    assert_eq!(lu.repivots(), 0);
    for _ in 0..3 {
        solve(&mut lu, &pattern, &values(1e-9), &mut random);
        assert_eq!(lu.repivots(), 1);
    }
}

/// Hundreds of pivots, each a mixture of all before it: rounding errors, in truth small, must not be taken for large.
#[test]
fn prop_dense_corner_is_not_called_singular() {
    let mut random = Random(23);
    let n = 300;
    let pattern = Pattern::from_entries(n, (0..n).flat_map(|i| (0..n).map(move |j| (i, j)))).unwrap();
    let mut lu = Lu::new(&pattern).unwrap();
    for _ in 0..2 {
        let values: Vec<f64> = pattern.entries().map(|_| 2.0 * random.unit() - 1.0).collect();
        solve(&mut lu, &pattern, &values, &mut random);
    }
}
