//! Benchmarks, and the optional comparison with other solvers.

use crate::run::{cargo, root, run, run_with};

/// Peers' crate, a workspace of its own.
const PEERS: &str = "benches/peers";

/// Divan's table and the report.
pub fn bench() -> Result<(), String> {
    cargo(&["bench"])
}

/// Peers written in Rust and C, then those in Python, in one run; writes `benches/peers/REPORT.md` and its picture. With
/// `--kernels` the linear kernels alone, which need no Python.
pub fn peers(arguments: &[&str]) -> Result<(), String> {
    let manifest = format!("{PEERS}/Cargo.toml");
    let mut line = vec!["run", "--release", "--locked", "--manifest-path", &manifest];
    line.extend(arguments);
    let target = root().join("target/peers");
    let target = target.to_string_lossy();
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    if arguments.contains(&"--kernels") {
        return run_with(cargo, &line, &[("CARGO_TARGET_DIR", &*target)]);
    }
    let folder = root().join("target/peers-venv");
    let python = folder.join("bin/python");
    if !python.exists() {
        run("python3", &["-m", "venv", &folder.to_string_lossy()])?;
    }
    let requirements = format!("{PEERS}/python/requirements.txt");
    run(&python, &["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r", &requirements])?;
    let environment = [("PEERS_PYTHON", &*python.to_string_lossy()), ("CARGO_TARGET_DIR", &*target)];
    run_with(cargo, &line, &environment)
}
