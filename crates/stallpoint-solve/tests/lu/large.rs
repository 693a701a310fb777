//! A hundred thousand rows: fill and work must stay in proportion.

use stallpoint_solve::sparse::Lu;

use crate::dense;
use crate::samples::{Random, edges, laplacian, laplacian_pattern, some_vector};

const N: usize = 100_000;

fn run(edges: &[(usize, usize)], random: &mut Random) -> usize {
    let pattern = laplacian_pattern(N, edges);
    let weights: Vec<f64> = edges.iter().map(|_| random.decades(-2.0, 2.0).abs()).collect();
    let values = laplacian(&pattern, edges, &weights, |_| 1e-3);
    let mut lu = Lu::new(&pattern).unwrap();
    let b = some_vector(N, random);
    for _ in 0..2 {
        lu.factor(&values).unwrap();
        let mut x = b.clone();
        lu.solve(&mut x);
        let residual = dense::residual(&pattern, &values, &x, &b);
        assert!(residual <= 1e-12, "{residual:e}");
    }
    assert_eq!(lu.repivots(), 0);
    lu.fill()
}

#[test]
fn exact_ladder_has_linear_fill() {
    // Two rails of resistors with rungs between them.
    let rails = (2..N).map(|i| (i - 2, i));
    let rungs = (0..N / 2).map(|i| (2 * i, 2 * i + 1));
    let edges: Vec<_> = rails.chain(rungs).collect();
    let fill = run(&edges, &mut Random(1));
    assert!(fill <= 6 * N, "{fill}");
}

#[test]
fn exact_line_has_no_fill() {
    let edges: Vec<_> = (1..N).map(|i| (i - 1, i)).collect();
    let fill = run(&edges, &mut Random(2));
    assert_eq!(fill, 3 * N - 2);
}

#[test]
fn exact_star_has_no_fill() {
    // One hub: searching its list at each of its leaves would take ten thousand million steps.
    let edges: Vec<_> = (1..N).map(|i| (0, i)).collect();
    let fill = run(&edges, &mut Random(3));
    assert_eq!(fill, 3 * N - 2);
}

#[test]
fn prop_tree_with_cross_ties() {
    let mut random = Random(4);
    let edges = edges(N, N / 50, &mut random);
    let fill = run(&edges, &mut random);
    // A tree alone has 3 N; the ties' share is a measured value with room, no source.
    assert!(fill <= 6 * N, "{fill}");
}
