//! Equilibrium: `f(x) = 0` with some unknowns held.

use crate::counters::Counters;
use crate::error::SolveError;
use crate::jump::Jump;
use crate::newton::{Newton, Stage};
use crate::options::Options;
use crate::system::System;
use crate::weights::Weights;

/// Pseudo-time steps of the fall-back: from the first, each `GROWTH` times the last, until one exceeds the longest.
const FIRST: f64 = 1e-9;
const LONGEST: f64 = 1e9;
const GROWTH: f64 = 4.0;
const MAX_PSEUDO_STEPS: usize = 2_000;

/// Solves `f(x) = 0` in the present mode, from the guess in `x`, holding the unknowns marked in `held` at their values.
///
/// Newton's method first; where it fails, the equations are followed in pseudo-time with growing implicit steps, as a
/// real system would settle. The mode is not changed: check the guards afterwards.
///
/// # Errors
/// As for a transient; `x` is then left as it was.
pub fn equilibrium(
    system: &mut impl System,
    t: f64,
    x: &mut [f64],
    held: &[bool],
    options: &Options,
) -> Result<Counters, SolveError> {
    let mut newton = Newton::new(system)?;
    let weights = Weights::new(system, options);
    let start = x.to_vec();
    let direct = Stage::Equilibrium { held };
    let mut jump = Jump::new(system);
    if let Err(error) = jump.solve(system, &mut newton, direct, t, x, &weights) {
        x.copy_from_slice(&start);
        let settled = settle(system, &mut newton, &mut jump, &weights, t, x, held);
        if settled.is_none() || jump.solve(system, &mut newton, direct, t, x, &weights).is_err() {
            x.copy_from_slice(&start);
            return Err(error);
        }
    }
    Ok(newton.counters)
}

/// Follows the system in pseudo-time; `None` when it does not settle.
fn settle(
    system: &mut impl System,
    newton: &mut Newton,
    jump: &mut Jump,
    weights: &Weights,
    t: f64,
    x: &mut [f64],
    held: &[bool],
) -> Option<()> {
    let mut known = vec![0.0; x.len()];
    let mut before = x.to_vec();
    let mut c = FIRST;
    for _ in 0..MAX_PSEUDO_STEPS {
        newton.evaluate(system, t, x, false);
        known.copy_from_slice(&newton.at.q);
        before.copy_from_slice(x);
        let stage = Stage::ImplicitHeld { c, known: &known, held };
        if jump.solve(system, newton, stage, t, x, weights).is_ok() {
            if c > LONGEST {
                return Some(());
            }
            c *= GROWTH;
        } else {
            x.copy_from_slice(&before);
            c /= 2.0 * GROWTH;
            if c < 1e-6 * FIRST {
                return None;
            }
        }
    }
    None
}
