//! What repeats itself: the steady cycle of a body, found directly.

use super::flow::{LinearFlow, Map, Pair};

/// One cycle of a body that repeats for ever.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// Values at the start of the cycle, which are those at its end.
    pub start: Pair,
    /// Highest value of the first body, and when in the cycle, s.
    pub highest: (f64, f64),
    /// Lowest value of the first body.
    pub lowest: f64,
    /// Highest value of the second body.
    pub second_highest: f64,
}

/// The cycle into which a body settles when stretches of constant flow, each with its duration in s, repeat for ever.
///
/// The map from one start to the next is linear, so its fixed point is had directly: `x = (1 - M)⁻¹ c`. No cycle is
/// simulated, however slow the body is against the cycle.
///
/// Returns none when it grows for ever.
///
/// # Example
/// ```
/// use stallpoint::studies::duty::{LinearFlow, periodic};
///
/// // Time constant 300 s; heat that would settle at 100 K for 60 s, then 240 s without.
/// let (on, off) = (LinearFlow::one(1.0 / 300.0, 100.0 / 300.0), LinearFlow::one(1.0 / 300.0, 0.0));
/// let round = periodic(&[(60.0, on), (240.0, off)]).unwrap();
/// let exact = 100.0 * (1.0 - (-0.2_f64).exp()) / (1.0 - (-1.0_f64).exp());
/// assert!((round.highest.0 - exact).abs() < 1e-9);
/// ```
pub fn periodic(stretches: &[(f64, LinearFlow)]) -> Option<Round> {
    let once = stretches.iter().fold(Map::identity(), |sum, (t, flow)| flow.map(*t).after(&sum));
    Some(follow(stretches, once.fixed()?))
}

/// One pass through the stretches from a start.
pub(super) fn follow(stretches: &[(f64, LinearFlow)], start: Pair) -> Round {
    let (mut x, mut t) = (start, 0.0);
    let mut round = Round { start, highest: (x[0], 0.0), lowest: x[0], second_highest: x[1] };
    for (duration, flow) in stretches {
        let (value, at) = flow.highest(0, x, *duration);
        if value > round.highest.0 {
            round.highest = (value, t + at);
        }
        round.second_highest = round.second_highest.max(flow.highest(1, x, *duration).0);
        x = flow.after(x, *duration);
        round.lowest = round.lowest.min(x[0]);
        t += duration;
    }
    round
}

/// When the first body reaches a limit, following the stretches once from a start, s.
pub(super) fn reaches(stretches: &[(f64, LinearFlow)], start: Pair, limit: f64) -> Option<f64> {
    let (mut x, mut t) = (start, 0.0);
    for (duration, flow) in stretches {
        if let Some(within) = flow.reaches(0, x, limit, *duration) {
            return Some(t + within);
        }
        x = flow.after(x, *duration);
        t += duration;
    }
    None
}
