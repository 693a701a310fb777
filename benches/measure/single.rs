//! Runs one variant over and over, for profilers and for callgrind: `-- --only <variant> <rtol> <runs>`.

use std::hint::black_box;

use crate::p1::{Reference, Variant, difference, options, rest, run_from};

/// Whether the arguments ask for this, and if so does it.
pub fn asked(arguments: &[String]) -> bool {
    let Some(at) = arguments.iter().position(|argument| argument == "--only") else { return false };
    let [variant, rtol, runs] = &arguments[at + 1..] else {
        println!("--only wants a variant, a tolerance and a number of runs");
        return true;
    };
    let variants = [Variant::P1, Variant::P1B, Variant::P1C, Variant::P1X];
    let variant = variants.into_iter().find(|known| known.name == variant);
    let (Some(variant), Ok(rtol), Ok(runs)) = (variant, rtol.parse(), runs.parse::<u32>()) else {
        println!("--only wants P1, P1b, P1c or P1x, a tolerance and a number of runs");
        return true;
    };
    let start = rest(variant).expect("a solution at rest");
    let mut last = None;
    for _ in 0..runs {
        last = Some(black_box(run_from(&start, &options(rtol), false)));
    }
    if let Some(Ok(run)) = &last {
        let reference = if variant.arcs { Reference::p1c() } else { Reference::p1() };
        println!("{:?}", difference(&run.samples.rows, &reference.rows, &reference.events));
    }
    println!("{:?}", last.map(|run| run.map(|run| run.counters)));
    true
}
