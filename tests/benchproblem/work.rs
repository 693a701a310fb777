//! Work of the solver on the benchmark problem. Machine-independent; each limit is the measured value and 5 %.

use crate::p1::{Variant, run};

/// Accepted steps and factorisations of one run stay within 5 % above these.
fn at_most(variant: Variant, rtol: f64, steps: u64, factorisations: u64) {
    let found = run(variant, rtol).expect("the variant can be run").counters;
    let within = |found: u64, golden: u64| found * 100 <= golden * 105;
    assert!(
        within(found.steps, steps) && within(found.factorisations, factorisations),
        "{} at {rtol:e}: {} steps, {} factorisations; golden {steps}, {factorisations}",
        variant.name,
        found.steps,
        found.factorisations
    );
}

#[test]
fn regress_p1_work() {
    at_most(Variant::P1, 1e-3, 325, 950);
    at_most(Variant::P1, 1e-4, 435, 1045);
    at_most(Variant::P1, 1e-5, 687, 1600);
    at_most(Variant::P1, 1e-6, 1148, 2800);
}

#[test]
fn regress_p1c_work() {
    at_most(Variant::P1C, 1e-3, 166, 491);
    at_most(Variant::P1C, 1e-4, 210, 511);
    at_most(Variant::P1C, 1e-5, 287, 631);
    at_most(Variant::P1C, 1e-6, 429, 853);
}
