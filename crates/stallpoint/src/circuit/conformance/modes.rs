//! The discrete states that a part's own triggers reach.

use super::super::memory::{Change, Memory, Trigger};
use super::super::part::Part;
use super::sampling::{Frame, Sampler};
use super::{Findings, in_mode};

/// Modes beyond which no more are tried.
const MOST: usize = 64;
/// A guard above zero that a circuit would not have let pass: rounding of its own terms.
const ZERO: f64 = 1e-9;

/// One memory of each mode that guards and times lead to.
pub(super) fn explore(
    part: &dyn Part,
    frame: &Frame,
    sampler: &mut Sampler,
    samples: u32,
    findings: &mut Findings,
) -> Vec<Memory> {
    let mut found = vec![part.memory()];
    let mut next = 0;
    while next < found.len() && found.len() < MOST {
        let memory = found[next].clone();
        next += 1;
        for _ in 0..samples {
            let x = sampler.state();
            for reached in leave(part, frame, &memory, &x, findings) {
                if found.iter().all(|known| known.mode != reached.mode) {
                    found.push(reached);
                }
            }
        }
    }
    found
}

/// Where the triggers that apply lead from a mode at a state.
fn leave(part: &dyn Part, frame: &Frame, memory: &Memory, x: &[f64], findings: &mut Findings) -> Vec<Memory> {
    let mut reached = Vec::new();
    let guards = guards(part, frame, memory, x);
    for (k, value) in guards.iter().enumerate() {
        let name = part.guards()[k];
        if value.is_nan() {
            findings.add("guards", || format!("`{name}` is not a number {}", in_mode(memory)));
        }
        if *value > 0.0 {
            let (after, x) = change(part, frame, memory, x, Trigger::Guard(k), findings);
            let still = self::guards(part, frame, &after, &x)[k];
            if still > ZERO * (1.0 + value.abs()) {
                findings.add("guards", || {
                    format!("`{name}` fired {} and is {still} after it {}", in_mode(memory), in_mode(&after))
                });
            }
            reached.push(after);
        }
    }
    if let Some(due) = part.next_time(memory).filter(|time| time.is_finite()) {
        let (after, _) = change(part, frame, memory, x, Trigger::Time, findings);
        if part.next_time(&after).is_some_and(|next| next <= due) {
            findings.add("times", || format!("{due} s came {} and is still the next time after it", in_mode(memory)));
        }
        reached.push(after);
    }
    reached
}

fn guards(part: &dyn Part, frame: &Frame, memory: &Memory, x: &[f64]) -> Vec<f64> {
    let mut values = vec![-1.0; part.guards().len()];
    part.guard_values(&frame.at(x, memory), &mut values);
    values
}

/// The memory after a trigger, and the state after its resets.
fn change(
    part: &dyn Part,
    frame: &Frame,
    memory: &Memory,
    x: &[f64],
    trigger: Trigger,
    findings: &mut Findings,
) -> (Memory, Vec<f64>) {
    let mut change = Change::from(memory);
    part.change(trigger, &frame.at(x, memory), &mut change);
    let mut x = x.to_vec();
    for &(local, value) in &change.resets {
        match x.get_mut(local) {
            Some(place) if value.is_finite() => *place = value,
            _ => findings.add("resets", || format!("local value {local} to {value} {}", in_mode(memory))),
        }
    }
    if change.memory.numbers.iter().any(|number| number.is_nan()) {
        findings.add("memory", || format!("a number is NaN after {trigger:?} {}", in_mode(memory)));
    }
    (change.memory, x)
}
