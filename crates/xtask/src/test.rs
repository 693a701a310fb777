//! Everything CI checks.

use crate::python::ready;
use crate::run::{cargo, run, run_with};

/// Format, lints, Rust tests and doctests.
pub fn rust() -> Result<(), String> {
    cargo(&["fmt", "--all", "--check"])?;
    cargo(&["clippy", "--workspace", "--all-targets", "--quiet", "--", "-D", "warnings"])?;
    cargo(&["test", "--quiet"])
}

/// Python tests, stubs, stories, notebooks.
pub fn python() -> Result<(), String> {
    let python = ready()?;
    let quiet = [("MPLBACKEND", "Agg")];
    let config = "python/pyproject.toml";
    let pytest = ["-m", "pytest", "--config-file", config, "--rootdir", ".", "--quiet"];
    run_with(&python, &[&pytest[..], &["python/tests", "tests/stories"]].concat(), &quiet)?;
    run_with(&python, &[&pytest[..], &["--doctest-modules", "python/src/stallpoint"]].concat(), &quiet)?;
    run(&python, &["-m", "mypy", "--config-file", config, "python/src/stallpoint"])?;
    run(
        &python,
        &[
            "-m",
            "mypy.stubtest",
            "stallpoint",
            "--concise",
            "--allowlist",
            "python/stubtest_allowlist.txt",
            "--mypy-config-file",
            config,
        ],
    )?;
    run_with(&python, &["-m", "pytest", "--quiet", "--nbmake", "notebooks"], &quiet)
}
