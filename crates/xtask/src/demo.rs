//! The main job on the demo drives.

use crate::python::ready;
use crate::run::run_with;

/// The demo drives; the last one's report is what stays on the screen.
const DRIVES: [&str; 3] = ["conveyor_gate", "stage_lift", "boat_lift"];

/// Runs each demo drive's start-up surge study; report, pictures and waveforms go to a folder of its own in `target/demo/`.
pub fn demo() -> Result<(), String> {
    let python = ready()?;
    for drive in DRIVES {
        let (file, folder) = (format!("notebooks/{drive}.toml"), format!("target/demo/{drive}"));
        run_with(&python, &["-m", "stallpoint", &file, "--output", &folder], &[("MPLBACKEND", "Agg")])?;
    }
    Ok(())
}
