//! P1c (arcs as states) and P1b (core loss) against P1 and against themselves.

use crate::p1::{Reference, Run, Variant, difference, run};

fn at(variant: Variant, rtol: f64) -> Run {
    run(variant, rtol).unwrap_or_else(|error| panic!("{} at {rtol:e}: {error}", variant.name))
}

fn largest(a: &Run, b: &Run) -> f64 {
    difference(&a.samples.rows, &b.samples.rows, &Reference::p1().events).max
}

#[test]
fn val_p1c_differs_from_p1_by_the_published_amount() {
    // The statement: at most 3.4e-5. The errors of both are a hundredth of that.
    let found = largest(&at(Variant::P1C, 1e-7), &at(Variant::P1, 1e-7));
    assert!((3.2e-5..=3.6e-5).contains(&found), "{found:.2e}");
}

#[test]
fn prop_p1c_error_follows_the_tolerance() {
    // Against its own reference, which two methods agree on to 1.4e-7. Measured: 6.9e-5, 8.7e-6, 1.2e-6, 7.6e-8.
    let reference = Reference::p1c();
    for rtol in [1e-4, 1e-5, 1e-6, 1e-7] {
        let found = difference(&at(Variant::P1C, rtol).samples.rows, &reference.rows, &reference.events);
        println!("{rtol:e}: {found:?}");
        assert!(found.max <= 1.5 * rtol + 1.4e-7, "rtol {rtol:e}: {found:?}");
    }
}

#[test]
fn prop_p1c_to_1e4_in_few_steps() {
    let run = at(Variant::P1C, 1e-4);
    let reference = Reference::p1c();
    let found = difference(&run.samples.rows, &reference.rows, &reference.events);
    let c = run.counters;
    assert!(found.max <= 1e-4 && c.steps <= 300, "{found:?}, {c:?}");
    // 210 accepted, 27 rejected: 11.4 % of the attempts, where 10 % are wanted.
    assert!(c.rejected_by_error + c.rejected_by_newton <= 27, "{c:?}");
}

#[test]
fn val_p1c_scheduled_events_are_those_of_p1() {
    let found = at(Variant::P1C, 1e-7);
    let wanted = Reference::p1().events;
    assert_eq!(found.events.len(), wanted.len());
    for (found, wanted) in found.events.iter().zip(&wanted) {
        assert!((found - wanted).abs() <= 6e-10, "{found} instead of {wanted}");
    }
}

#[test]
fn regress_p1c_arcs_going_out() {
    // The control switch's, A+'s at the release, and A-'s at its three bounces.
    for rtol in [1e-3, 1e-4, 1e-5, 1e-6] {
        assert_eq!(at(Variant::P1C, rtol).arc_events, 5, "rtol {rtol:e}");
    }
}

#[test]
fn prop_p1b_has_the_events_of_p1() {
    let found = at(Variant::P1B, 1e-5);
    assert_eq!(found.events.len(), 18, "{:?}", found.events);
    assert_eq!(found.drop_outs.len(), 1);
}
