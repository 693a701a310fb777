//! Matrices without an inverse, by pattern or by value.

use stallpoint_solve::sparse::{FactorError, Lu, Pattern};

use crate::samples::{Random, edges, laplacian, laplacian_pattern};

#[test]
fn exact_structurally_singular_is_named() {
    // Column 3 is empty; rows 2 and 3 share column 2.
    let entries = [(0, 0), (1, 1), (0, 1), (2, 2), (3, 2)];
    let error = Lu::new(&Pattern::from_entries(4, entries).unwrap()).unwrap_err();
    assert_eq!(error.columns, [3]);
    assert!(error.rows == [2] || error.rows == [3], "{error}");
}

#[test]
fn exact_zero_row_and_column_are_named() {
    let n = 6;
    let entries = (0..n).flat_map(|i| [(i, i), (i, (i + 1) % n)]);
    let pattern = Pattern::from_entries(n, entries).unwrap();
    let mut lu = Lu::new(&pattern).unwrap();
    let mut values = vec![0.0; pattern.nonzeros()];
    for (i, j, slot) in pattern.entries() {
        let gone = i == 4 || j == 2;
        values[slot] = if gone { 0.0 } else { 1.0 + (i + 2 * j) as f64 };
    }
    assert_eq!(lu.factor(&values), Err(FactorError::Singular { row: 4, column: 2 }));
}

/// A floating part of a network: its rows sum to zero but for rounding.
#[test]
fn prop_floating_part_is_found() {
    let mut random = Random(3);
    for n in [3, 10, 40, 400] {
        let edges = edges(n, n / 10, &mut random);
        let pattern = laplacian_pattern(n, &edges);
        let mut lu = Lu::new(&pattern).unwrap();
        for _ in 0..50 {
            let weights: Vec<f64> = edges.iter().map(|_| random.decades(-2.0, 2.0).abs()).collect();
            let tied = laplacian(&pattern, &edges, &weights, |i| if i == 0 { 1e-3 } else { 0.0 });
            lu.factor(&tied).unwrap();
            let floating = laplacian(&pattern, &edges, &weights, |_| 0.0);
            let outcome = lu.factor(&floating);
            assert!(matches!(outcome, Err(FactorError::Singular { .. })), "{n} {outcome:?}");
        }
    }
}

/// The floating part is named, not some innocent row elsewhere.
#[test]
fn exact_floating_pair_is_named() {
    let n = 5;
    // 0-1-2 tied down at 0; 3-4 float.
    let edges = [(0, 1), (1, 2), (3, 4)];
    let pattern = laplacian_pattern(n, &edges);
    let values = laplacian(&pattern, &edges, &[0.1, 0.3, 0.7], |i| if i == 0 { 1.0 } else { 0.0 });
    let Err(FactorError::Singular { row, column }) = Lu::new(&pattern).unwrap().factor(&values) else {
        panic!("not found")
    };
    assert!(row >= 3 && column >= 3, "{row} {column}");
}

/// A weak tie is no singularity: 1e-12 beside 1 is what open switches look like.
#[test]
fn exact_weak_tie_is_regular() {
    let n = 30;
    let edges: Vec<_> = (1..n).map(|i| (i - 1, i)).collect();
    let pattern = laplacian_pattern(n, &edges);
    let weights = vec![1.0; n - 1];
    let mut lu = Lu::new(&pattern).unwrap();
    for _ in 0..3 {
        for tie in [1e-12, 1.0, 1e-13] {
            let values = laplacian(&pattern, &edges, &weights, |i| if i == 0 { tie } else { 0.0 });
            lu.factor(&values).unwrap();
            // A unit source at the far end, all of it through the tie.
            let mut b = vec![0.0; n];
            b[n - 1] = tie;
            lu.solve(&mut b);
            // The tie itself is rounded into a diagonal of about one: so much and no more is known.
            let known = 4.0 * f64::EPSILON / tie;
            assert!((b[0] - 1.0).abs() <= known * n as f64, "{tie:e}: {}", b[0]);
        }
    }
    assert_eq!(lu.repivots(), 0);
}
