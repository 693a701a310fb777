//! A requirement of the user's own, and one that is left out.

use stallpoint::report::{Check, Side};
use stallpoint::studies::sizing::{Case, Requirement, Requirements, SizingOptions, assess};

use super::support::with;

fn gentle(limit: f64) -> impl Fn(&Case) -> Vec<Check> + Send + Sync {
    move |case| {
        let peak = case.evidence.facts.largest(|direction| &direction.breaker_peak);
        vec![
            Check::against("The surge is gentle", peak.value, Side::AtMost, limit, "A", "by the user", &*peak.when)
                .keyed("gentle"),
        ]
    }
}

#[test]
fn exact_a_closure_is_a_requirement() {
    let judged = |limit: f64| {
        let requirements = Requirements::default().with(gentle(limit));
        assess(&with(&[]), &SizingOptions { requirements, ..SizingOptions::default() }).unwrap()
    };
    assert!(judged(180.0).broken().is_empty());
    assert_eq!(judged(170.0).broken(), ["gentle"]);
    assert!(judged(170.0).of("gentle").unwrap().when.contains("reversal"));
}

/// A type with data of its own.
struct Winch {
    least_speed: f64,
}

impl Requirement for Winch {
    fn check(&self, case: &Case) -> Vec<Check> {
        let times = case.evidence.facts.directions.iter().filter_map(|direction| direction.time_to_speed);
        let slowest = times.fold(0.0, f64::max);
        vec![
            Check::against("It is quick", slowest, Side::AtMost, self.least_speed, "s", "by the user", "both starts")
                .keyed("quick"),
        ]
    }
}

#[test]
fn exact_a_type_is_a_requirement_and_keys_can_be_left_out() {
    let quick = Requirements::default().with(Winch { least_speed: 0.1 });
    let judge = |requirements| assess(&with(&[]), &SizingOptions { requirements, ..SizingOptions::default() }).unwrap();
    assert_eq!(judge(quick.clone()).broken(), ["quick"]);
    let without = judge(quick.without("quick").without("breaking"));
    assert!(without.holds() && without.of("breaking").is_none() && without.of("quick").is_none());
}
