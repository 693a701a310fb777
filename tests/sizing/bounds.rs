//! Sparing the transients of candidates that already fail gives the same answer.

use stallpoint::studies::sizing::{SizingOptions, State};

use super::search::{breakers, cables, contactors, corners, find};
use super::support::with;

#[test]
fn exact_bounds_give_the_same_answer_with_fewer_transients() {
    let drive = with(&[]);
    let mut breakers = breakers();
    breakers.rows.remove(0); // without 50 A no breaker suits the thinnest cable's ampacity
    let choices = [cables(), breakers, contactors()];
    let all = SizingOptions { corners: corners(&drive)[2..].to_vec(), ..SizingOptions::default() };
    let (full, spared) =
        (find(&drive, &choices, &all), find(&drive, &choices, &SizingOptions { bounds: true, ..all.clone() }));
    assert_eq!((full.best, &full.pareto), (spared.best, &spared.pareto));
    assert!(spared.transients < full.transients, "{} against {}", spared.transients, full.transients);
    for (full, spared) in full.candidates.iter().zip(&spared.candidates) {
        assert_eq!(full.state, spared.state, "{:?}", full.names);
        if spared.run {
            assert_eq!(full, spared);
        } else {
            // What it does tell is what the full search tells of it too.
            assert_eq!(spared.state, State::Rejected);
            assert!(!spared.reasons().is_empty());
            for check in spared.broken() {
                assert!(full.checks.contains(check), "{check:?}");
            }
        }
    }
    assert!(spared.candidates.iter().any(|candidate| !candidate.run));
}
