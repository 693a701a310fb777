//! Whole transients: from initial values to 2,000 even samples on 0 to 1.5 s.

use divan::{Bencher, black_box};

use crate::p1::{Variant, options, rest, run_from};

/// Tolerances of the benchmarks and of the report.
pub const TOLERANCES: [f64; 5] = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6];

/// The tolerances at which a variant comes to its end; the report names the others.
fn solved(variant: Variant) -> Vec<f64> {
    let start = rest(variant).expect("a solution at rest");
    let ends = |&rtol: &f64| run_from(&start, &options(rtol), false).is_ok();
    TOLERANCES.into_iter().filter(ends).collect()
}

fn time(bencher: Bencher, variant: Variant, rtol: f64) {
    let start = rest(variant).expect("a solution at rest");
    let options = options(rtol);
    bencher.bench_local(|| run_from(black_box(&start), &options, false).expect("a run that ended before"));
}

#[divan::bench(args = solved(Variant::P1))]
fn p1(bencher: Bencher, rtol: f64) {
    time(bencher, Variant::P1, rtol);
}

#[divan::bench(args = solved(Variant::P1C))]
fn p1c(bencher: Bencher, rtol: f64) {
    time(bencher, Variant::P1C, rtol);
}
