//! What flows in is dissipated, stored or delivered.

use super::super::memory::Memory;
use super::super::part::{Domain, Part};
use super::sampling::Frame;
use super::{Conformance, Findings, in_mode};
use crate::linear::solve;

/// Disagreement allowed, as a share of the sum of magnitudes.
const SHARE: f64 = 1e-5;
/// Newton steps towards a state that fulfils the algebraic equations.
const NEWTON: usize = 40;

/// Own rows with a content, by the first mode.
fn differential(frame: &Frame, part: &dyn Part, memory: &Memory, x: &[f64]) -> Vec<bool> {
    let n = frame.size;
    let dq = frame.equations(part, x, memory).dq;
    (0..n).map(|row| (0..n).any(|column| dq[row * n + column] != 0.0)).collect()
}

/// Terminal rows without content, so that their flows are known at every state.
pub(super) fn can_balance(part: &dyn Part, frame: &Frame) -> bool {
    let x = vec![0.0; frame.size];
    // A shaft's own momentum lies in its terminal row.
    !differential(frame, part, &part.memory(), &x)[..frame.terminals].iter().any(|&content| content)
}

/// Moves the algebraic unknowns so that the own algebraic equations hold; none when that fails.
fn consistent(part: &dyn Part, frame: &Frame, memory: &Memory, x: &[f64], content: &[bool]) -> Option<Vec<f64>> {
    let n = frame.size;
    let rows: Vec<usize> = (frame.terminals..n).filter(|&row| !content[row]).collect();
    let dq = frame.equations(part, x, memory).dq;
    let algebraic = |column: usize| (0..n).all(|row| dq[row * n + column] == 0.0);
    let columns: Vec<usize> = (frame.terminals..n).filter(|&column| algebraic(column)).collect();
    if rows.is_empty() {
        return Some(x.to_vec());
    }
    if rows.len() != columns.len() {
        return None;
    }
    let mut x = x.to_vec();
    for _ in 0..NEWTON {
        let own = frame.equations(part, &x, memory);
        let system = rows.iter().map(|&row| {
            columns.iter().map(|&column| own.df[row * n + column]).chain([-own.f[row]]).collect::<Vec<f64>>()
        });
        let step = solve(system.collect())?;
        let mut small = true;
        for (&column, step) in columns.iter().zip(&step) {
            x[column] += step;
            small &= step.abs() <= 1e-12 * (x[column].abs() + frame.nominal[column]);
        }
        if small {
            return Some(x);
        }
    }
    None
}

pub(super) fn check(
    part: &dyn Part,
    frame: &Frame,
    memory: &Memory,
    x: &[f64],
    found: &mut Conformance,
    findings: &mut Findings,
) {
    let content = differential(frame, part, memory, x);
    let Some(x) = consistent(part, frame, memory, x, &content) else { return };
    // Where a guard is above zero the part is about to leave this mode: no state of it.
    let mut guards = vec![0.0; part.guards().len()];
    part.guard_values(&frame.at(&x, memory), &mut guards);
    if guards.iter().any(|&guard| guard > 0.0) {
        return;
    }
    let power = part.power(&frame.at(&x, memory));
    if !power.delivered.is_finite() || !power.dissipated.is_finite() {
        findings.add("power", || format!("is not finite {} at {x:?}", in_mode(memory)));
        return;
    }
    found.is_source |= power.delivered != 0.0;
    for (k, probe) in part.probes().iter().enumerate() {
        if part.probe(k, &frame.at(&x, memory)).is_nan() {
            findings.add("probes", || format!("`{}` is not a number {} at {x:?}", probe.name, in_mode(memory)));
        }
    }
    if !found.balanced {
        return;
    }
    let own = frame.equations(part, &x, memory);
    let taken: Vec<f64> = (0..frame.terminals).map(|k| x[k] * own.f[k]).collect();
    let electrical: Vec<usize> =
        (0..frame.terminals).filter(|&k| part.terminals()[k].domain == Domain::Electrical).collect();
    let (sum, most) = electrical.iter().fold((0.0, 0.0_f64), |(s, m), &k| (s + own.f[k], m.max(own.f[k].abs())));
    if !(sum.abs() <= 1e-9 * most) {
        findings.add("currents", || format!("into its terminals add up to {sum} A {} at {x:?}", in_mode(memory)));
    }
    let Some(gain) = gain(part, frame, memory, &x, &content) else { return };
    let into: f64 = taken.iter().sum();
    let size: f64 = taken.iter().map(|p| p.abs()).sum::<f64>() + power.dissipated.abs() + power.delivered.abs();
    let size = size + gain.abs();
    if power.dissipated < -SHARE * size {
        findings.add("passivity", || format!("dissipates {} W {} at {x:?}", power.dissipated, in_mode(memory)));
    }
    let residual = into + power.delivered - power.dissipated - gain;
    if !(residual.abs() <= SHARE * size) {
        findings.add("energy", || {
            format!(
                "{residual} W of {size} W unaccounted for (in {into}, delivered {}, dissipated {}, stored {gain}) {} at \
                 {x:?}",
                power.delivered,
                power.dissipated,
                in_mode(memory)
            )
        });
    }
}

/// Rate of the stored energy, W: along the rates that the own equations give, terminals held.
fn gain(part: &dyn Part, frame: &Frame, memory: &Memory, x: &[f64], content: &[bool]) -> Option<f64> {
    let n = frame.size;
    let rows: Vec<usize> = (frame.terminals..n).filter(|&row| content[row]).collect();
    if rows.is_empty() {
        return Some(0.0);
    }
    let own = frame.equations(part, x, memory);
    let columns: Vec<usize> =
        (frame.terminals..n).filter(|&column| rows.iter().any(|&row| own.dq[row * n + column] != 0.0)).collect();
    if rows.len() != columns.len() {
        return None;
    }
    let system = rows
        .iter()
        .map(|&row| columns.iter().map(|&column| own.dq[row * n + column]).chain([-own.f[row]]).collect::<Vec<f64>>());
    let rates = solve(system.collect())?;
    // A step that moves every state by little of its size.
    let fastest = columns.iter().zip(&rates).map(|(&c, rate)| rate.abs() / (x[c].abs() + frame.nominal[c]));
    let h = 1e-5 / fastest.fold(1e-300, f64::max);
    let stored = |sign: f64| {
        let mut moved = x.to_vec();
        for (&column, rate) in columns.iter().zip(&rates) {
            moved[column] += sign * h * rate;
        }
        let moved = consistent(part, frame, memory, &moved, content)?;
        Some(part.stored(&frame.at(&moved, memory)))
    };
    Some((stored(1.0)? - stored(-1.0)?) / (2.0 * h))
}
