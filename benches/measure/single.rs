//! Runs one variant over and over, for profilers and for callgrind: `-- --only <variant> <rtol> <runs>`.

use std::hint::black_box;

use stallpoint::drive::{BOAT_LIFT, Direction, Drive, StartOptions};

use crate::p1::{Reference, Variant, difference, options, rest, run_from};

/// Whether the arguments ask for this, and if so does it.
pub fn asked(arguments: &[String]) -> bool {
    let Some(at) = arguments.iter().position(|argument| argument == "--only") else { return false };
    let [variant, rtol, runs] = &arguments[at + 1..] else {
        panic!("--only wants a variant, a tolerance and a number of runs");
    };
    let known = [Variant::P1, Variant::P1B, Variant::P1C, Variant::P1X].into_iter().find(|known| known.name == variant);
    match (known, rtol.parse(), runs.parse()) {
        (Some(variant), Ok(rtol), Ok(runs)) => problem(variant, rtol, runs),
        (None, Ok(rtol), Ok(runs)) if variant == "boat_lift" => boat_lift(rtol, runs),
        _ => panic!("--only wants P1, P1b, P1c, P1x or boat_lift, a tolerance and a number of runs"),
    }
    true
}

fn problem(variant: Variant, rtol: f64, runs: u32) {
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
}

/// Starts of the boat lift, from its circuit to its columns.
fn boat_lift(rtol: f64, runs: u32) {
    let drive = Drive::from_toml_str(BOAT_LIFT).expect("the demo drive reads");
    let mut options = StartOptions::hold(1.0).expect("a second is above zero");
    options.transient.rtol = rtol;
    for _ in 0..runs {
        black_box(drive.start(Direction::Forward, &options)).expect("the demo drive starts");
    }
}
