//! Growth: a harness of up to 100,000 unknowns whose motors start, through the whole integrator. All values invented.

mod network;

use std::time::Instant;

use stallpoint_solve::{Ended, Flow, Observer, Options, Step, integrate};

use network::Harness;

const SIZES: [usize; 7] = [100, 300, 1_000, 3_000, 10_000, 30_000, 100_000];
const UNTIL: f64 = 1.0;

/// Keeps the largest current of the feed and nothing else: what a run needs beside is the solver's own.
struct Peak {
    amperes: f64,
    /// When the first step began: the analysis of the matrix is done.
    began: Instant,
}

impl Observer<Harness> for Peak {
    fn begin(&mut self, _: &Harness, _: f64, _: &[f64]) {
        self.began = Instant::now();
    }

    fn step(&mut self, system: &Harness, step: &Step) -> Flow {
        self.amperes = self.amperes.max(system.feed(step.x1));
        Flow::Continue
    }
}

/// Runs every size and prints a table.
pub fn print() {
    println!(
        "| unknowns | motors | entries | steps | rejected | events | s | µs/step | growth of a step | peak, A | end, rad/s | MiB |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    let mut before: Option<(f64, f64)> = None;
    for size in SIZES {
        let mut harness = Harness::new(size);
        let mut x = vec![0.0; harness.unknowns()];
        let options = Options { restart_step: 1e-11, ..Options::default() };
        let start = Instant::now();
        let mut peak = Peak { amperes: 0.0, began: start };
        let ended = integrate(&mut harness, (0.0, UNTIL), &mut x, &options, &mut peak);
        let (seconds, stepping) = (start.elapsed().as_secs_f64(), peak.began.elapsed().as_secs_f64());
        let Ended { counters, .. } = match ended {
            Ok(ended) => ended,
            Err(error) => {
                println!("| {} | {error} |", harness.unknowns());
                continue;
            }
        };
        let n = harness.unknowns() as f64;
        let step = stepping / (counters.steps + counters.rejected_by_error) as f64;
        let growth = before
            .map_or("–".into(), |(n0, step0): (f64, f64)| format!("{:.2}", (step / step0).ln() / (n / n0).ln()));
        before = Some((n, step));
        println!(
            "| {n} | {} | {} | {} | {} | {} | {seconds:.3} | {:.1} | {growth} | {:.1} | {:.2} | {:.0} |",
            harness.motors(),
            harness.entries(),
            counters.steps,
            counters.rejected_by_error,
            counters.events,
            step * 1e6,
            peak.amperes,
            harness.slowest(&x),
            peak_memory(),
        );
    }
}

/// Most memory that the process has held so far, MiB, as the system says; 0 where it does not.
fn peak_memory() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<f64>().ok()).unwrap_or(0.0) / 1024.0
}
