//! The step loop allocates nothing.

use allocation_counter::measure;
use stallpoint_solve::{Observer, integrate};

use crate::p1::{Drive, Variant, options, rest};

/// Keeps nothing.
struct Nothing;

impl Observer<Drive> for Nothing {}

#[test]
fn exact_a_run_allocates_the_same_however_many_steps_it_makes() {
    let start = rest(Variant::P1C).unwrap();
    let counts = [1e-3, 1e-4, 1e-6].map(|rtol| {
        let (mut drive, mut x) = start.clone();
        let mut steps = 0;
        let made = measure(|| {
            steps = integrate(&mut drive, (0.0, 1.5), &mut x, &options(rtol), &mut Nothing).unwrap().counters.steps;
        });
        (steps, made.count_total, made.bytes_total)
    });
    println!("{counts:?}");
    assert!(counts[2].0 > 2 * counts[0].0, "{counts:?}");
    assert!(counts.iter().all(|&(_, count, bytes)| (count, bytes) == (counts[0].1, counts[0].2)), "{counts:?}");
    assert!(counts[0].1 > 0, "the counter counts");
}
