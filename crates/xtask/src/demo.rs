//! The main job on the demo drive.

use crate::python::ready;
use crate::run::run_with;

/// Runs the boat lift's start-up surge study; report, pictures and waveforms go to `target/demo/`.
pub fn demo() -> Result<(), String> {
    let python = ready()?;
    run_with(
        &python,
        &["-m", "stallpoint", "notebooks/boat_lift.toml", "--output", "target/demo"],
        &[("MPLBACKEND", "Agg")],
    )
}
