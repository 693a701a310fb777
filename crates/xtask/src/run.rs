//! Running other programs from the top of the repository.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// Top of the repository.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// Runs a program with arguments, telling what it does and how long it took.
pub fn run(program: impl AsRef<Path>, arguments: &[&str]) -> Result<(), String> {
    run_with(program, arguments, &[])
}

/// As [`run`], with environment variables set.
pub fn run_with(program: impl AsRef<Path>, arguments: &[&str], environment: &[(&str, &str)]) -> Result<(), String> {
    run_in(".", program, arguments, environment)
}

/// As [`run_with`], in a folder of the repository.
pub fn run_in(
    folder: &str,
    program: impl AsRef<Path>,
    arguments: &[&str],
    environment: &[(&str, &str)],
) -> Result<(), String> {
    let program = program.as_ref();
    let short = program.file_name().unwrap_or(program.as_os_str()).to_string_lossy().into_owned();
    let line = format!("{short} {}", arguments.join(" "));
    println!("\n== {line}");
    let start = Instant::now();
    let mut command = Command::new(program);
    command.args(arguments).current_dir(root().join(folder));
    for (name, value) in environment {
        command.env(name, value);
    }
    let status = command.status().map_err(|error| format!("cannot run `{line}`: {error}"))?;
    println!("== {:.0} s: {short} {}", start.elapsed().as_secs_f64(), arguments.first().unwrap_or(&""));
    if status.success() { Ok(()) } else { Err(format!("`{line}` failed ({status})")) }
}

/// Cargo, as the one that runs this.
pub fn cargo(arguments: &[&str]) -> Result<(), String> {
    run(std::env::var("CARGO").unwrap_or_else(|_| "cargo".into()), arguments)
}
