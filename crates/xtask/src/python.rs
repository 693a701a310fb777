//! The virtual environment `.venv` with the package built in it.

use std::path::PathBuf;

use crate::run::{root, run, run_in};

/// Makes `.venv`, installs what `python/requirements-dev.txt` pins, builds the package into it; returns its interpreter.
pub fn ready() -> Result<PathBuf, String> {
    let venv = root().join(".venv");
    let python = venv.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    if !python.exists() {
        let base = std::env::var("PYTHON").unwrap_or_else(|_| "python3".into());
        run(&base, &["-m", "venv", ".venv"])
            .map_err(|problem| format!("{problem}; CPython 3.10 or later with venv and pip is needed"))?;
    }
    let wanted = std::fs::read_to_string(root().join("python/requirements-dev.txt")).map_err(|e| e.to_string())?;
    let stamp = venv.join("requirements-installed.txt");
    if std::fs::read_to_string(&stamp).is_ok_and(|installed| installed == wanted) {
        // Nothing new to install.
    } else {
        let install =
            ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r", "python/requirements-dev.txt"];
        run(&python, &install)?;
        std::fs::write(&stamp, wanted).map_err(|e| e.to_string())?;
    }
    // A target directory of its own: sharing one with plain cargo would rebuild everything at every switch.
    let target = root().join("target/python");
    let build = ["-m", "maturin", "develop", "--release", "--quiet"];
    let venv = venv.to_string_lossy().into_owned();
    run_in("python", &python, &build, &[("CARGO_TARGET_DIR", &target.to_string_lossy()), ("VIRTUAL_ENV", &venv)])?;
    Ok(python)
}
