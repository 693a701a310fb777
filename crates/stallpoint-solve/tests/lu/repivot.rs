//! Values that outgrow the pivots chosen for others.

use stallpoint_solve::sparse::{Lu, Pattern};

use crate::dense;
use crate::samples::{Random, edges, laplacian, laplacian_pattern, some_vector};

#[test]
fn exact_zero_pivot_is_replaced_and_counted() {
    let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 0), (1, 1)]).unwrap();
    let mut lu = Lu::new(&pattern).unwrap();
    lu.factor(&[1.0, 0.0, 0.0, 1.0]).unwrap();
    // Whatever was the first pivot, it is zero now.
    lu.factor(&[0.0, 1.0, 2.0, 0.0]).unwrap();
    let mut b = [4.0, 5.0];
    lu.solve(&mut b);
    assert_eq!(b, [5.0, 2.0]);
    assert_eq!((lu.factorisations(), lu.repivots()), (2, 1));
    // The new pivots hold for these values.
    lu.factor(&[0.0, 3.0, 5.0, 0.0]).unwrap();
    assert_eq!(lu.repivots(), 1);
}

#[test]
fn exact_one_line_changes_its_unit_freely() {
    // A row scaled as a whole is no reason to choose pivots anew.
    let pattern = Pattern::from_entries(2, [(0, 0), (0, 1), (1, 0), (1, 1)]).unwrap();
    let mut lu = Lu::new(&pattern).unwrap();
    for power in [0, 40, -40, 0, -80] {
        let s = 2f64.powi(power);
        lu.factor(&[2.0 * s, 1.0, 1.0 * s, 3.0]).unwrap();
        let mut b = [3.0 * s, 4.0];
        lu.solve(&mut b);
        assert_eq!(b, [1.0, 1.0]);
    }
    assert_eq!(lu.repivots(), 0);
}

/// Switches in a tree: each edge is closed (1e3) or open (1e-9), twelve decades apart.
#[test]
fn prop_switches_over_twelve_decades() {
    let mut random = Random(5);
    for n in [8, 32, 60] {
        let edges = edges(n, n / 8, &mut random);
        let pattern = laplacian_pattern(n, &edges);
        let mut lu = Lu::new(&pattern).unwrap();
        for _ in 0..60 {
            let weights: Vec<f64> = edges.iter().map(|_| if random.unit() < 0.5 { 1e3 } else { 1e-9 }).collect();
            let values = laplacian(&pattern, &edges, &weights, |i| if i % 5 == 0 { 1.0 } else { 1e-9 });
            let b = some_vector(n, &mut random);
            lu.factor(&values).unwrap();
            let mut x = b.clone();
            lu.solve(&mut x);
            let residual = dense::residual(&pattern, &values, &x, &b);
            assert!(residual <= 1e-12, "{residual:e}");
        }
        // Diagonally dominant matrices never need other pivots.
        assert_eq!(lu.repivots(), 0);
        assert_eq!(lu.factorisations(), 60);
    }
}

/// The same bits whether or not other matrices came before, as long as the pivots stay.
#[test]
fn exact_refactorisation_repeats_its_bits() {
    let mut random = Random(11);
    let n = 40;
    let edges = edges(n, 5, &mut random);
    let pattern = laplacian_pattern(n, &edges);
    let mut values = |_: usize| {
        let weights: Vec<f64> = edges.iter().map(|_| random.decades(-3.0, 3.0).abs()).collect();
        laplacian(&pattern, &edges, &weights, |_| 0.1)
    };
    let (first, second) = (values(0), values(1));
    let mut lu = Lu::new(&pattern).unwrap();
    let mut run = |values: &[f64]| {
        lu.factor(values).unwrap();
        let mut b = vec![1.0; n];
        lu.solve(&mut b);
        b
    };
    let a = run(&first);
    run(&second);
    assert_eq!(run(&first), a);
    assert_eq!(lu.repivots(), 0);
}
