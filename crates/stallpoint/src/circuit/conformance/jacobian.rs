//! Derivatives against differences, and entries that must not appear later.

use super::super::local::{Stamp, Target, Touched};
use super::super::memory::Memory;
use super::super::part::Part;
use super::sampling::Frame;
use super::{Findings, in_mode};

/// Step of the differences, as a share of a value.
const STEP: f64 = 1e-5;
/// Agreement asked for, as a share of the derivative.
const SHARE: f64 = 1e-6;

/// Entries that the circuit lays out: those of the first mode at the initial state.
pub(super) fn announced(part: &dyn Part, frame: &Frame) -> Vec<bool> {
    let mut x = vec![0.0; frame.size];
    for (k, unknown) in frame.unknowns.iter().enumerate() {
        x[frame.terminals + k] = unknown.initial;
    }
    let memory = part.memory();
    let mut touched = Touched::default();
    part.evaluate(
        &frame.at(&x, &memory),
        &mut Stamp { target: Target::Record(&mut touched), jacobian: true, size: frame.size },
    );
    let mut entries = vec![false; frame.size * frame.size];
    for (row, column) in touched.entries {
        entries[row * frame.size + column] = true;
    }
    entries
}

pub(super) fn check(
    part: &dyn Part,
    frame: &Frame,
    announced: &[bool],
    memory: &Memory,
    x: &[f64],
    linear_content: &mut bool,
    findings: &mut Findings,
) {
    let n = frame.size;
    let own = frame.equations(part, x, memory);
    for (what, values) in [("f", &own.f), ("q", &own.q), ("df", &own.df), ("dq", &own.dq)] {
        if values.iter().any(|value| !value.is_finite()) {
            findings.add("values", || format!("{what} is not finite {} at {x:?}", in_mode(memory)));
            return;
        }
    }
    let reference = frame.equations(part, &vec![0.0; n], memory);
    *linear_content &= (0..n * n).all(|k| (own.dq[k] - reference.dq[k]).abs() <= 1e-12 * own.dq[k].abs());
    for column in 0..n {
        let size = x[column].abs().max(frame.nominal[column]);
        let difference = |step: f64| {
            let (mut above, mut below) = (x.to_vec(), x.to_vec());
            above[column] += step;
            below[column] -= step;
            // The step as the rounded values have it.
            let width = above[column] - below[column];
            (frame.equations(part, &above, memory), frame.equations(part, &below, memory), width)
        };
        let (wide, narrow) = (difference(STEP * size), difference(0.1 * STEP * size));
        for row in 0..n {
            let at = row * n + column;
            for (what, own, wide, narrow) in [
                ("df", own.df[at], pair(&wide, row, |e| &e.f), pair(&narrow, row, |e| &e.f)),
                ("dq", own.dq[at], pair(&wide, row, |e| &e.q), pair(&narrow, row, |e| &e.q)),
            ] {
                // Curvature shows in what the two widths disagree about, rounding in the size of the values.
                let slack = SHARE * own.abs() + 4.0 * (wide.slope - narrow.slope).abs() + narrow.rounding;
                let names = || format!("d{}/d{}", frame.names[row], frame.names[column]);
                if !((own - narrow.slope).abs() <= slack) {
                    let slope = narrow.slope;
                    findings.add("derivative", || {
                        format!("{what} {} is {own}, the difference {slope} {} at {x:?}", names(), in_mode(memory))
                    });
                }
                if own != 0.0 && !announced[at] {
                    findings.add("entries", || format!("{what} {} was not announced {}", names(), in_mode(memory)));
                }
            }
        }
    }
}

struct Slope {
    slope: f64,
    rounding: f64,
}

type Sides = (super::super::local::LocalEquations, super::super::local::LocalEquations, f64);

fn pair(sides: &Sides, row: usize, values: impl Fn(&super::super::local::LocalEquations) -> &Vec<f64>) -> Slope {
    let (high, low) = (values(&sides.0)[row], values(&sides.1)[row]);
    // Terms of an equation may cancel: a hundred of their sum's last places.
    Slope { slope: (high - low) / sides.2, rounding: 100.0 * f64::EPSILON * high.abs().max(low.abs()) / sides.2 }
}
