//! Starts a second of P1c on one thread and on two, keeping the largest motor current alone: `-- throughput`.

use std::time::Instant;

use stallpoint_solve::{Flow, Observer, Step, integrate};

use crate::p1::{
    Drive, END, Reference, Variant, difference, options, rest, run_from,
    unknowns::{IM, N},
};

const TOLERANCES: [f64; 3] = [3e-3, 1e-4, 1e-5];
/// Runs of one turn, and turns of each number of threads.
const RUNS: usize = 200;
const TURNS: usize = 15;

/// The one measure that a sweep keeps.
struct Peak(f64);

impl Observer<Drive> for Peak {
    fn step(&mut self, _: &Drive, step: &Step) -> Flow {
        self.0 = self.0.max(step.x1[IM]);
        Flow::Continue
    }
}

fn starts(start: &(Drive, [f64; N]), rtol: f64, runs: usize) {
    for _ in 0..runs {
        let (mut drive, mut x) = start.clone();
        let mut peak = Peak(0.0);
        integrate(&mut drive, (0.0, END), &mut x, &options(rtol), &mut peak).expect("P1c runs");
        std::hint::black_box(peak.0);
    }
}

/// Starts a second of so many threads together, each with its share of the runs.
fn rate(start: &(Drive, [f64; N]), rtol: f64, threads: usize) -> f64 {
    let began = Instant::now();
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| starts(start, rtol, RUNS / threads));
        }
    });
    RUNS as f64 / began.elapsed().as_secs_f64()
}

/// Medians of the turns, taken in alternation.
pub fn print() {
    println!("| rtol | error max | starts/s, one thread | starts/s, two threads | ratio |");
    println!("| --- | --- | --- | --- | --- |");
    let start = rest(Variant::P1C).expect("a solution at rest");
    let reference = Reference::p1c();
    for rtol in TOLERANCES {
        let run = run_from(&start, &options(rtol), false).expect("P1c runs");
        let error = difference(&run.samples.rows, &reference.rows, &reference.events).max;
        let (mut one, mut two, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
        for _ in 0..TURNS {
            one.push(rate(&start, rtol, 1));
            two.push(rate(&start, rtol, 2));
            ratios.push(two[two.len() - 1] / one[one.len() - 1]);
        }
        let [one, two, ratio] = [one, two, ratios].map(|mut values| {
            values.sort_by(f64::total_cmp);
            values[TURNS / 2]
        });
        println!("| {rtol:.0e} | {error:.2e} | {one:.0} | {two:.0} | {ratio:.2} |");
    }
}
