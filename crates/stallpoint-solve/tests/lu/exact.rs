//! Small systems with known answers.

use stallpoint_solve::sparse::{FactorError, Lu, Pattern};

fn full(n: usize) -> Pattern {
    Pattern::from_entries(n, (0..n).flat_map(|i| (0..n).map(move |j| (i, j)))).unwrap()
}

#[test]
fn exact_two_by_two() {
    let mut lu = Lu::new(&full(2)).unwrap();
    lu.factor(&[2.0, 1.0, 1.0, 3.0]).unwrap();
    let mut b = [3.0, 4.0];
    lu.solve(&mut b);
    assert_eq!(b, [1.0, 1.0]);
    assert_eq!((lu.factorisations(), lu.repivots(), lu.fill()), (1, 0, 4));
}

#[test]
fn exact_zero_diagonal() {
    // Only the two off-diagonal places exist.
    let pattern = Pattern::from_entries(2, [(0, 1), (1, 0)]).unwrap();
    let mut lu = Lu::new(&pattern).unwrap();
    lu.factor(&[4.0, 2.0]).unwrap(); // (1, 0) then (0, 1)
    let mut b = [6.0, 8.0];
    lu.solve(&mut b);
    assert_eq!(b, [2.0, 3.0]);
    assert_eq!(lu.fill(), 2);
}

#[test]
fn exact_constrained_system() {
    // x0 + x2 = 5, x1 - x2 = 0, x0 - x1 = 1: x = (3, 2, 2), zero in the last diagonal place.
    let entries = [(0, 0), (0, 2), (1, 1), (1, 2), (2, 0), (2, 1)];
    let pattern = Pattern::from_entries(3, entries).unwrap();
    let mut values = [0.0; 6];
    for ((i, j), v) in entries.into_iter().zip([1.0, 1.0, 1.0, -1.0, 1.0, -1.0]) {
        values[pattern.slot(i, j).unwrap()] = v;
    }
    let mut lu = Lu::new(&pattern).unwrap();
    lu.factor(&values).unwrap();
    let mut b = [5.0, 0.0, 1.0];
    lu.solve(&mut b);
    assert_eq!(b, [3.0, 2.0, 2.0]);
}

#[test]
fn exact_extreme_scales_change_no_bit() {
    let values = [2.0, 1.0, 0.5, 1.0, 3.0, 1.0, 0.25, 1.0, 4.0];
    let (r, c) = ([40, -33, 200], [-90, 60, 7]);
    let b = [1.0, -2.0, 0.75];
    let mut lu = Lu::new(&full(3)).unwrap();
    lu.factor(&values).unwrap();
    let mut plain = b;
    lu.solve(&mut plain);
    // The same system in other units (powers of two).
    let two = |e: i32| 2f64.powi(e);
    let mut scaled = values;
    for (slot, value) in scaled.iter_mut().enumerate() {
        *value *= two(r[slot % 3]) * two(c[slot / 3]);
    }
    let mut other = [0, 1, 2].map(|i| b[i] * two(r[i]));
    let mut lu = Lu::new(&full(3)).unwrap();
    lu.factor(&scaled).unwrap();
    lu.solve(&mut other);
    for j in 0..3 {
        let back = other[j] * two(c[j]);
        assert!((back - plain[j]).abs() <= 4.0 * f64::EPSILON * plain[j].abs(), "{back} {}", plain[j]);
    }
}

#[test]
fn exact_whole_number_range() {
    // Diagonal from the smallest to the largest normal numbers.
    let n = 7;
    let pattern = Pattern::from_entries(n, (0..n).map(|i| (i, i))).unwrap();
    let values: Vec<f64> = (0..n).map(|i| 2f64.powi(-1020 + 340 * i as i32)).collect();
    let mut lu = Lu::new(&pattern).unwrap();
    lu.factor(&values).unwrap();
    let mut b = values.clone();
    lu.solve(&mut b);
    assert_eq!(b, vec![1.0; n]);
}

#[test]
fn exact_nothing_to_solve() {
    let mut lu = Lu::new(&full(0)).unwrap();
    lu.factor(&[]).unwrap();
    lu.solve(&mut []);
    assert_eq!(lu.fill(), 0);
}

#[test]
fn exact_misuse_gives_errors_or_nan() {
    let mut lu = Lu::new(&full(2)).unwrap();
    let mut b = [1.0, 2.0];
    lu.solve(&mut b);
    assert!(b.iter().all(|v| v.is_nan()), "no factors yet");
    assert_eq!(lu.factor(&[1.0]), Err(FactorError::Length { expected: 4, given: 1 }));
    lu.factor(&[2.0, 1.0, 1.0, 3.0]).unwrap();
    let mut short = [1.0];
    lu.solve(&mut short);
    assert!(short[0].is_nan());
}

#[test]
fn exact_not_finite_is_named() {
    let mut lu = Lu::new(&full(2)).unwrap();
    let named = Err(FactorError::NotFinite { row: 0, column: 1 });
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(lu.factor(&[2.0, 1.0, bad, 3.0]), named, "first factorisation");
    }
    lu.factor(&[2.0, 1.0, 1.0, 3.0]).unwrap();
    assert_eq!(lu.factor(&[2.0, 1.0, f64::NAN, 3.0]), named, "refactorisation");
    let mut b = [3.0, 4.0];
    lu.solve(&mut b);
    assert!(b[0].is_nan(), "no stale answer");
    lu.factor(&[2.0, 1.0, 1.0, 3.0]).unwrap();
    let mut b = [3.0, 4.0];
    lu.solve(&mut b);
    assert_eq!(b, [1.0, 1.0]);
    assert_eq!(lu.repivots(), 0);
}
