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
    run_with(&python, &["-m", "pytest", "--quiet", "python/tests", "tests/stories"], &[("MPLBACKEND", "Agg")])?;
    run(&python, &["-m", "mypy.stubtest", "stallpoint", "--concise"])?;
    run_with(&python, &["-m", "pytest", "--quiet", "--nbmake", "notebooks"], &[("MPLBACKEND", "Agg")])
}
