//! Peers of the solver, optional: `cargo xtask bench --peers`. What is measured and how: `../README.md`.
//!
//! Writes `REPORT.md` and `work_precision.svg` beside its manifest; `--short` makes a quick trial and writes nothing;
//! `--kernels` compares the linear kernels alone and writes their section of the report anew.

mod contestant;
mod diffsol_equations;
mod diffsol_run;
mod ida;
mod kernel;
mod network;
mod outcome;
#[path = "../../p1/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the benchmarks and tests share this module and use more of it")]
mod p1;
mod picture;
mod python;
mod report;
mod restart;
mod transient;

/// Heading of the last section.
const KERNELS: &str = "## Linear kernels\n\n";

fn main() -> std::io::Result<()> {
    let short = std::env::args().any(|word| word == "--short");
    let (drawn, rounds, python_rounds) = if short { (60, 5, 1) } else { (600, 31, 5) };
    let machine = report::machine();
    let kernels = kernel::measure(&kernel::SIZES, rounds);
    let linear = format!("{KERNELS}{machine} at the start of this section.\n\n{}", report::kernels(&kernels, rounds));
    let here = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    if std::env::args().any(|word| word == "--kernels") {
        println!("{linear}");
        let old = std::fs::read_to_string(here.join("REPORT.md"))?;
        let front = old.split(KERNELS).next().unwrap_or_default();
        return if short { Ok(()) } else { std::fs::write(here.join("REPORT.md"), format!("{front}{linear}")) };
    }
    let result = transient::measure(drawn, rounds);
    let slow = python::measure(python_rounds);
    let unit = report::unit(&result);
    let mut rows: Vec<report::Row> = result
        .lines
        .iter()
        .map(|line| report::Row { name: line.who.name(), error: line.error, seconds: line.median })
        .collect();
    rows.extend(slow.iter().filter_map(python::Line::row));
    // Looser runs say little, and a set that another of the same solver beats in both says nothing.
    let beaten = |a: &report::Row| rows.iter().any(|b| b.name == a.name && b.error < a.error && b.seconds < a.seconds);
    let keep: Vec<bool> = rows.iter().map(|row| row.error <= 1e-2 && !beaten(row)).collect();
    let mut keep = keep.into_iter();
    rows.retain(|_| keep.next() == Some(true));
    let picture = picture::draw(&rows, unit, &machine);
    let text = format!(
        "# Peers: one run\n\nWritten by `cargo xtask bench --peers`; what it means: [../README.md](../README.md). {machine} at \
         the start.\n\n![work against precision](work_precision.svg)\n\n## P1c\n\n{}\n## Python peers\n\n{}\n\
         {linear}",
        report::transients(&result),
        python::report(&slow, &result, python_rounds)
    );
    println!("{text}");
    if !short {
        std::fs::write(here.join("REPORT.md"), text)?;
        std::fs::write(here.join("work_precision.svg"), picture)?;
    }
    Ok(())
}
