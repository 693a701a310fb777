//! Counts of instructions: figures that do not hang on how busy the machine is.

use std::process::Command;

use crate::run::root;

/// Counted figures of the last time they were recorded.
const RECORD: &str = "benches/instructions.csv";
/// Problem and tolerance, as `--only` takes them.
const PROBLEMS: [(&str, &str); 2] = [("P1c", "1e-4"), ("boat_lift", "1e-4")];
/// Runs counted beyond the first, which also pays for the start of the program.
const RUNS: u64 = 4;

/// Counts the instructions of one run of each problem, under valgrind, and sets them against the record; writes a new one on demand.
pub fn count(record: bool) -> Result<(), String> {
    let program = bench_program()?;
    let path = root().join(RECORD);
    let before = std::fs::read_to_string(&path).unwrap_or_default();
    let mut after = "# Instructions of one run, counted by `cargo xtask bench --instructions` on x86-64.\nproblem,rtol,instructions\n".to_owned();
    for (problem, rtol) in PROBLEMS {
        let counted = |runs: u64| instructions(&program, &["--only", problem, rtol, &runs.to_string()]);
        let (one, more) = (counted(1)?, counted(1 + RUNS)?);
        let each = more.checked_sub(one).ok_or(format!("{problem}: more runs took fewer instructions"))? / RUNS;
        after += &format!("{problem},{rtol},{each}\n");
        let key = format!("{problem},{rtol},");
        let old = before.lines().find_map(|line| line.strip_prefix(&key)).and_then(|old| old.parse::<f64>().ok());
        let ratio = old.map_or("nothing recorded".to_owned(), |old| format!("{:.3} of the record", each as f64 / old));
        println!("{problem} at {rtol}: {:.3} million instructions a run, {ratio}", each as f64 / 1e6);
    }
    if record { std::fs::write(path, after).map_err(|error| format!("cannot write {RECORD}: {error}")) } else { Ok(()) }
}

/// Builds the bench target; the path that cargo tells.
fn bench_program() -> Result<String, String> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let built = Command::new(cargo).args(["bench", "--no-run", "--color", "never"]).current_dir(root()).output();
    let built = built.map_err(|error| format!("cannot run cargo: {error}"))?;
    let told = String::from_utf8_lossy(&built.stderr);
    if !built.status.success() {
        return Err(format!("the bench does not build:\n{told}"));
    }
    let line = told.lines().find(|line| line.contains("Executable benches/main.rs"));
    let path = line.and_then(|line| line.split(['(', ')']).nth(1));
    path.map(|path| root().join(path).to_string_lossy().into_owned())
        .ok_or_else(|| format!("no bench was built:\n{told}"))
}

fn instructions(program: &str, arguments: &[&str]) -> Result<u64, String> {
    let counted = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null", program])
        .args(arguments)
        .output()
        .map_err(|error| format!("cannot run valgrind ({error}): install the package `valgrind`"))?;
    let told = String::from_utf8_lossy(&counted.stderr);
    if !counted.status.success() {
        return Err(format!("the counted run failed:\n{told}"));
    }
    let count =
        told.lines().find_map(|line| line.split("Collected :").nth(1)).and_then(|count| count.trim().parse().ok());
    count.ok_or_else(|| format!("valgrind told no count:\n{told}"))
}
