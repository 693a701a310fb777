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
    at_most(Variant::P1, 1e-3, 437, 1381);
    at_most(Variant::P1, 1e-4, 554, 1764);
    at_most(Variant::P1, 1e-5, 807, 2600);
    at_most(Variant::P1, 1e-6, 1225, 3744);
}

#[test]
fn regress_p1c_work() {
    at_most(Variant::P1C, 1e-3, 197, 882);
    at_most(Variant::P1C, 1e-4, 247, 944);
    at_most(Variant::P1C, 1e-5, 314, 1096);
    at_most(Variant::P1C, 1e-6, 607, 1729);
}
