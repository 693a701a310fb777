//! Time against measured error, with the counters that explain it.

use std::hint::black_box;
use std::time::Instant;

use stallpoint_solve::SolveError;

use super::transient::TOLERANCES;
use crate::p1::{Drive, Matrices, Reference, Run, Variant, difference, options, rest, run_from, unknowns::N};

/// Runs of each kind. The fastest is reported: on shared cores a median measures the neighbours, and it does so unevenly,
/// since a batch of the kernel fits between two of their turns and a run does not.
const RUNS: usize = 41;

fn seconds<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = Instant::now();
    let result = black_box(work());
    (start.elapsed().as_secs_f64(), result)
}

fn fastest(times: &[f64]) -> f64 {
    times.iter().copied().fold(f64::INFINITY, f64::min)
}

/// Seconds of one refactorisation and solution, timed in batches long enough for the clock.
fn kernel(matrices: &mut Matrices) -> f64 {
    const BATCH: usize = 500;
    let mut batch = || {
        for turn in 0..BATCH {
            black_box(matrices.refactor_and_solve(turn));
        }
    };
    batch();
    seconds(batch).0 / BATCH as f64
}

/// One line of the report: the fastest time of a run and what the run was.
struct Line {
    time: f64,
    run: Result<Run, SolveError>,
}

/// Runs the variants and the linear kernel by turns, so that a busy machine slows all of them alike.
fn measure(starts: &[(Drive, [f64; N])], rtol: f64, matrices: &mut Matrices) -> (Vec<Line>, f64) {
    let options = options(rtol);
    let mut times = vec![Vec::new(); starts.len()];
    let mut kernels = Vec::new();
    for _ in 0..RUNS {
        for (start, times) in starts.iter().zip(&mut times) {
            times.push(seconds(|| run_from(start, &options, false)).0);
        }
        kernels.push(kernel(matrices));
    }
    let line = |(start, times): (&(Drive, [f64; N]), &Vec<f64>)| Line {
        time: fastest(times),
        run: run_from(start, &options, true),
    };
    (starts.iter().zip(&times).map(line).collect(), fastest(&kernels))
}

/// Prints the report.
pub fn print() {
    let variants = [Variant::P1, Variant::P1B, Variant::P1C, Variant::P1X];
    let starts = match variants.iter().map(|&variant| rest(variant)).collect::<Result<Vec<_>, _>>() {
        Ok(starts) => starts,
        Err(error) => return println!("no solution at rest: {error}"),
    };
    let mut matrices = Matrices::new().expect("P1 has a solution at rest");
    let (p1, p1c) = (Reference::p1(), Reference::p1c());
    println!("\ntimes: fastest of {RUNS} runs of each, by turns, from initial values to 2,000 samples.");
    println!("error: largest and rms difference from the references of P1 and P1c, scaled.");
    println!("kernel: one refactorisation and solution of P1's matrix, n = {N}.");
    println!(
        "{:5} {:>5} {:>9} {:>9} {:>8} {:>7} {:>7} {:>6} {:>6} {:>5} {:>5} {:>6} {:>7} {:>6} {:>6} {:>5} {:>5}",
        "",
        "rtol",
        "max",
        "rms",
        "ms",
        "of P1",
        "us/step",
        "kernel",
        "steps",
        "rej.e",
        "rej.N",
        "redone",
        "Newton",
        "fact.",
        "events",
        "arcs",
        "drops"
    );
    for rtol in TOLERANCES {
        let (lines, kernel) = measure(&starts, rtol, &mut matrices);
        let first = lines[0].run.is_ok().then_some(lines[0].time);
        for (variant, line) in variants.iter().zip(&lines) {
            let run = match &line.run {
                Ok(run) => run,
                Err(error) => {
                    println!("{:5} {rtol:5.0e} {error}", variant.name);
                    continue;
                }
            };
            let reference = [(Variant::P1, &p1), (Variant::P1C, &p1c)].into_iter().find(|(of, _)| of == variant);
            let (max, rms) = match reference {
                Some((_, reference)) => {
                    let found = difference(&run.samples.rows, &reference.rows, &reference.events);
                    (format!("{:.2e}", found.max), format!("{:.2e}", found.rms))
                }
                None => ("-".to_owned(), "-".to_owned()),
            };
            let c = run.counters;
            let per_step = line.time / c.steps as f64;
            let share = first.map_or("-".to_owned(), |first| format!("{:.2}", line.time / first));
            println!(
                "{:5} {rtol:5.0e} {max:>9} {rms:>9} {:8.3} {share:>7} {:7.2} {:6.1} {:6} {:5} {:5} {:6} {:7} {:6} {:6} {:5} {:5}",
                variant.name,
                1e3 * line.time,
                1e6 * per_step,
                per_step / kernel,
                c.steps,
                c.rejected_by_error,
                c.rejected_by_newton,
                c.redone_for_events,
                c.newton_iterations,
                c.factorisations,
                run.events.len(),
                run.arc_events,
                run.drop_outs.len(),
            );
        }
    }
    println!(
        "kernel: {:.0} ns; {} entries, {} in the factors",
        1e9 * kernel(&mut matrices),
        matrices.pattern.nonzeros(),
        matrices.lu.fill()
    );
}
