//! P1c over tolerances, ground joints and cable lengths: `-- robustness`. Counts failures; times nothing.

use crate::p1::{Drive, Run, Variant, difference, options, rest, run_from, unknowns::N};

/// Tolerances 1e-2 to 1e-9, ground joints 0.1 to 150 mohm, cables 2 to 40 m: 5,000 runs.
const TOLERANCES: i32 = 8;
const JOINTS: i32 = 25;
const CABLES: i32 = 25;
/// The run that the others of a drive are compared with.
const TIGHT: f64 = 1e-9;

fn at(start: &(Drive, [f64; N]), rtol: f64) -> Option<Run> {
    match run_from(start, &options(rtol), false) {
        Ok(run) => Some(run),
        Err(error) => {
            println!("rtol {rtol:.0e}, {:?}: {error}", start.0.variant);
            None
        }
    }
}

/// Geometric steps from `low` to `high`.
fn spread(low: f64, high: f64, k: i32, count: i32) -> f64 {
    low * (high / low).powf(f64::from(k) / f64::from(count - 1))
}

/// Runs them all and prints what failed, and how the errors follow the tolerance.
pub fn print() {
    let (mut runs, mut failed, mut other_events, mut chattering) = (0, 0, 0, 0);
    // Largest error over rtol, and of which joint and cable.
    let mut worst = vec![(0.0_f64, 0.0, 0.0); TOLERANCES as usize];
    let mut beyond = 0;
    let mut falls = [0_u32; 3];
    for joint in 0..JOINTS {
        for cable in 0..CABLES {
            let ground_joint = spread(0.1e-3, 150e-3, joint, JOINTS);
            let variant = Variant { ground_joint, cable: spread(2.0, 40.0, cable, CABLES), ..Variant::P1C };
            let start = rest(variant).expect("a solution at rest");
            let tight = at(&start, TIGHT);
            let mut before = None;
            for k in 0..TOLERANCES {
                let rtol = 10_f64.powi(-2 - k);
                runs += 1;
                let Some(run) = (if rtol <= TIGHT { tight.clone() } else { at(&start, rtol) }) else {
                    failed += 1;
                    continue;
                };
                let Some(tight) = tight.as_ref().filter(|_| rtol > TIGHT) else { continue };
                if tight.events.len() != run.events.len() || tight.arc_events != run.arc_events {
                    other_events += 1;
                    continue;
                }
                // In a limit cycle the phase drifts, so that a pointwise error means nothing.
                if tight.drop_outs.len() > 1 {
                    chattering += 1;
                    continue;
                }
                let error = difference(&run.samples.rows, &tight.samples.rows, &tight.events).max;
                if error > worst[k as usize].0 * rtol {
                    worst[k as usize] = (error / rtol, ground_joint, variant.cable);
                }
                beyond += u32::from(error > 10.0 * rtol);
                if let Some(before) = before {
                    // A tenth of the tolerance: the error falls to a tenth, to within a factor of 3 either way.
                    let ratio: f64 = before / error;
                    falls[if ratio < 10.0 / 3.0 { 0 } else { usize::from(ratio > 30.0) + 1 }] += 1;
                }
                before = Some(error);
            }
        }
    }
    println!(
        "{runs} runs, {failed} failed, {other_events} with other events than at {TIGHT:e}, {chattering} chattering"
    );
    for (k, (error, joint, cable)) in worst.iter().enumerate().take(TOLERANCES as usize - 1) {
        println!("rtol 1e-{}: error at most {error:.1} rtol, at {:.1} mohm and {cable:.1} m", k + 2, 1e3 * joint);
    }
    println!("{beyond} runs with an error beyond 10 rtol");
    println!(
        "a tenth of the tolerance: error fell by less than 3.3 {}, by 3.3 to 30 {}, by more {}",
        falls[0], falls[1], falls[2]
    );
}
