//! The linear kernel on the benchmark problem's matrix (n = 26).

use divan::{Bencher, black_box};

use crate::p1::Matrices;

/// Numeric factorisation and one solution, the two matrices by turns.
#[divan::bench]
fn refactor_and_solve(bencher: Bencher) {
    let mut matrices = Matrices::new().expect("P1 has a solution at rest");
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        black_box(matrices.refactor_and_solve(turn))
    });
}

/// One solution with factors at hand.
#[divan::bench]
fn solve(bencher: Bencher) {
    let mut matrices = Matrices::new().expect("P1 has a solution at rest");
    bencher.bench_local(|| {
        let mut b = black_box(matrices.right);
        matrices.lu.solve(&mut b);
        b
    });
}
