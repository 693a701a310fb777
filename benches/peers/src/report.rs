//! The report as Markdown, with ratios beside every time.

use std::fmt::Write;

use stallpoint_solve::sparse::LANES;

use crate::kernel;
use crate::transient::{Result, TARGETS};

/// One point of the picture.
pub struct Row {
    pub name: String,
    pub error: f64,
    pub seconds: f64,
}

/// Processor, cores and load, as Linux tells them.
pub fn machine() -> String {
    let read = |path: &str| std::fs::read_to_string(path).unwrap_or_default();
    let info = read("/proc/cpuinfo");
    let model = info.lines().find_map(|line| line.strip_prefix("model name")?.split(':').nth(1).map(str::trim));
    let cores = info.lines().filter(|line| line.starts_with("processor")).count();
    let load = read("/proc/loadavg");
    let load: Vec<_> = load.split_whitespace().take(3).collect();
    format!("{cores} cores, {}; load average {}", model.unwrap_or("processor unknown"), load.join(" "))
}

/// Time of ours that every other is divided by.
pub fn unit(result: &Result) -> f64 {
    result.lines.iter().find(|line| line.target == 1e-4).map_or(f64::NAN, |line| line.median)
}

/// What the transients and searches gave.
pub fn transients(result: &Result) -> String {
    let ours = |target: f64| result.lines.iter().find(|line| line.target == target).map(|line| line.median);
    let mut out = format!(
        "The reference against IDA at rtol 1e-10 with the second coding of the equations: largest difference {:.1e}, event \
         times {:.1e} s.\n\nMedian of {} runs of each, by turns. `of ours`: time against this library's at the same target; \
         `of ours at 1e-4`: against one and the same run.\n\n| solver | target | error max | ms | of ours | of ours at 1e-4 | \
         fastest of ours' fastest | steps | rejected | restarts after failures |\n|{}\n",
        result.agreement.0,
        result.agreement.1,
        result.rounds,
        " --- |".repeat(10)
    );
    for line in &result.lines {
        let same = ours(line.target).unwrap_or(f64::NAN);
        let least = result.lines.iter().find(|own| own.target == line.target).map_or(f64::NAN, |own| own.least);
        let _ = writeln!(
            out,
            "| {} | {:.0e} | {:.2e} | {:.3} | {:.1} | {:.1} | {:.1} | {} | {} | {} |",
            line.who.name(),
            line.target,
            line.error,
            1e3 * line.median,
            line.median / same,
            line.median / unit(result),
            line.least / least,
            line.steps,
            line.rejected,
            line.rescues
        );
    }
    out.push_str(
        "\n| solver | option sets drawn | failed | other events than the reference | targets never reached |\n",
    );
    let _ = writeln!(out, "|{}", " --- |".repeat(5));
    for search in &result.searches {
        let reached =
            |target: &&f64| !result.lines.iter().any(|line| line.who == search.who && line.target == **target);
        let missed: Vec<_> = TARGETS.iter().filter(reached).map(|target| format!("{target:.0e}")).collect();
        let missed = if missed.is_empty() { "–".to_owned() } else { missed.join(", ") };
        let _ = writeln!(
            out,
            "| {} | {} | {} | {} | {missed} |",
            search.who.name(),
            search.drawn,
            search.failed,
            search.astray
        );
    }
    out.push_str("\nThe sets chosen:\n\n");
    for line in &result.lines {
        let _ = writeln!(out, "- {} at {:.0e}: `{:?}`", line.who.name(), line.target, line.set);
    }
    out
}

/// What the kernels gave, with the exponent of growth from the size before.
pub fn kernels(lines: &[kernel::Line], rounds: usize) -> String {
    let mut out = format!(
        "Refactorisation and solution, median of {rounds} batches of each, by turns; of KLU the best of four settings. \
         `growth`: exponent p of time ~ n^p from the size before. `anew`: share of the calls that chose scales or pivots \
         anew. Lanes: time for one of {LANES} matrices factored and solved at once.\n\n| matrix | n | entries | kernel | µs | of ours | growth | entries of factors | anew | residual |\n|{}\n",
        " --- |".repeat(10)
    );
    for line in lines {
        let same = |other: &&kernel::Line| other.network == line.network && other.who == line.who && other.n < line.n;
        let before = lines.iter().filter(same).max_by_key(|other| other.n);
        let growth = before
            .filter(|before| before.residual.is_finite() && line.residual.is_finite())
            .map(|before| (line.seconds / before.seconds).ln() / (line.n as f64 / before.n as f64).ln());
        let ours = lines.iter().find(|o| o.network == line.network && o.n == line.n && o.who == kernel::NAMES[0]);
        let ratio = ours.filter(|ours| ours.residual.is_finite()).map(|ours| line.seconds / ours.seconds);
        let told = |number: Option<f64>| number.map_or("–".to_owned(), |number| format!("{number:.2}"));
        let residual =
            if line.residual.is_finite() { format!("{:.0e}", line.residual) } else { "**refused**".to_owned() };
        let _ = writeln!(
            out,
            "| {} | {} | {} | {} | {:.2} | {} | {} | {} | {:.2} | {residual} |",
            line.network,
            line.n,
            line.nonzeros,
            line.who,
            1e6 * line.seconds,
            told(ratio),
            told(growth),
            line.fill.filter(|&fill| fill > 0).map_or("–".to_owned(), |fill| fill.to_string()),
            line.anew
        );
    }
    for line in lines.iter().filter(|line| line.n > 90_000 && line.who == kernel::NAMES[0]) {
        let hundred = lines.iter().find(|o| o.network == line.network && o.who == line.who && (90..200).contains(&o.n));
        if let Some(hundred) = hundred.filter(|_| line.residual.is_finite()) {
            let exponent = (line.seconds / hundred.seconds).ln() / (line.n as f64 / hundred.n as f64).ln();
            let _ = writeln!(
                out,
                "\nOurs on the {} grows as n^{exponent:.2} from {} to {}.",
                line.network, hundred.n, line.n
            );
        }
    }
    out
}
