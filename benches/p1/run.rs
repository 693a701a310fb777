//! One run of a variant.

use stallpoint_solve::{Counters, Options, SolveError, equilibrium, integrate};

use super::drive::Drive;
use super::parameters::{AMBIENT, OCV, Variant};
use super::samples::{END, Samples};
use super::unknowns::{N, TW, VB};

/// What a run gives.
#[derive(Debug, Clone)]
pub struct Run {
    pub samples: Samples,
    pub counters: Counters,
    pub events: Vec<f64>,
    pub arc_events: u32,
    pub drop_outs: Vec<f64>,
}

/// The drive at rest, and its direct-current solution.
pub fn rest(variant: Variant) -> Result<(Drive, [f64; N]), SolveError> {
    let mut drive = Drive::new(variant);
    let mut x = [0.0; N];
    x[VB] = OCV;
    x[TW] = AMBIENT;
    // Far tighter than any run, so that its error does not count.
    let options = Options { rtol: 1e-10, ..Options::default() };
    equilibrium(&mut drive, 0.0, &mut x, &[false; N], &options)?;
    Ok((drive, x))
}

/// Integrates from the given start.
pub fn run_from(start: &(Drive, [f64; N]), options: &Options, scalars: bool) -> Result<Run, SolveError> {
    let (mut drive, mut x) = start.clone();
    let mut samples = Samples::new(scalars);
    let ended = integrate(&mut drive, (0.0, END), &mut x, options, &mut samples)?;
    let Drive { events, arc_events, drop_outs, .. } = drive;
    Ok(Run { samples, counters: ended.counters, events, arc_events, drop_outs })
}

/// The open contacts' 1 µS against the cables' inductances decays in 4 ps: the restart's steps are longer than that.
pub fn options(rtol: f64) -> Options {
    Options { rtol, restart_step: 1e-11, ..Options::default() }
}

/// Finds the start and integrates from it, with the key scalars.
pub fn run(variant: Variant, rtol: f64) -> Result<Run, SolveError> {
    run_from(&rest(variant)?, &options(rtol), true)
}
