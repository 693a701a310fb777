//! What these tests share.

use stallpoint::circuit::{At, Circuit, LocalEquations, Memory, Part, Run};
use stallpoint::parts::{Breaker, CurrentSource, Resistor};

/// Asserts that two numbers agree to `relative`.
#[track_caller]
pub fn assert_close(value: f64, exact: f64, relative: f64, what: &str) {
    assert!((value - exact).abs() <= relative * exact.abs(), "{what}: {value} against {exact}");
}

/// Asserts that the energy of a run adds up to its `rtol` of what was delivered, or to 1e-6 when that is more.
#[track_caller]
pub fn assert_energy_adds_up(run: &Run, rtol: f64) {
    let (residual, delivered) = (run.energy.residual(), run.energy.delivered());
    assert!(delivered > 0.0 && residual.abs() <= rtol.max(1e-6) * delivered, "{residual} J of {delivered} J");
}

/// Asserts that a part's derivatives at local values `x` are those of central differences.
#[track_caller]
pub fn assert_derivatives(part: &dyn Part, x: &[f64], memory: &Memory) {
    let n = part.terminals().len() + part.unknowns().len();
    assert_eq!(x.len(), n, "{}", part.kind());
    let identity: Vec<u32> = (0..n as u32).collect();
    let equations = |x: &[f64]| {
        let mut local = LocalEquations::new(n);
        part.evaluate(&At::alone(0.0, x, memory, &identity), &mut local.stamp());
        local
    };
    let own = equations(x);
    for column in 0..n {
        let step = 1e-6 * x[column].abs().max(1e-3);
        let (mut above, mut below) = (x.to_vec(), x.to_vec());
        above[column] += step;
        below[column] -= step;
        let (above, below) = (equations(&above), equations(&below));
        for row in 0..n {
            for (what, own, high, low) in [
                ("df", own.df[row * n + column], above.f[row], below.f[row]),
                ("dq", own.dq[row * n + column], above.q[row], below.q[row]),
            ] {
                let difference = (high - low) / (2.0 * step);
                // Rounding of the two values over the step, and the third derivative's part.
                let slack = 1e-6 * own.abs() + 4.0 * f64::EPSILON * high.abs().max(low.abs()) / step;
                assert!(
                    (own - difference).abs() <= slack,
                    "{} {what}[{row},{column}]: {own} {difference}",
                    part.kind()
                );
            }
        }
    }
}

/// A current source that sends `amperes` through a breaker; a resistor beside it takes it over when the breaker opens.
pub fn breaker_on(amperes: CurrentSource, breaker: Breaker) -> Circuit {
    let mut circuit = Circuit::new();
    circuit.add("source", amperes, [("plus", "ground"), ("minus", "p")]).unwrap();
    circuit.add("beside", Resistor::new(BESIDE).unwrap(), [("a", "p"), ("b", "ground")]).unwrap();
    circuit.add("breaker", breaker, [("line", "p"), ("load", "ground")]).unwrap();
    circuit
}

/// Resistance beside the breaker, ohm: so low that no arc can burn when it opens.
pub const BESIDE: f64 = 0.01;

/// Share of the source's current that a closed breaker of 1 mohm takes.
pub const SHARE: f64 = BESIDE / (BESIDE + 1e-3);
