//! What each body asks of a cycle: how warm, how long on, how long off.

use super::bodies::Body;
use super::flow::{LinearFlow, Pair};
use super::periodic::{Round, follow, periodic, reaches};
use super::profile::{SpanLoads, flows};
use super::{Cycle, CycleKind};
use crate::drive::Direction;

/// A cold machine after S2 is within this of ambient, K (IEC 60034-1; from memory), or has this share of its limit left.
pub(super) const COLD_AGAIN_K: f64 = 2.0;
const COLD_AGAIN_SHARE: f64 = 0.02;
/// Widest stretch of a time that is looked for.
const WIDEST: f64 = 1e9;

/// How a body fares in a cycle that it repeats for ever, or in S2 once.
pub(super) fn fares(cycle: &Cycle, spans: &[SpanLoads], body: &Body) -> Option<Round> {
    match cycle.kind() {
        CycleKind::Continuous => {
            let settled = body.flow(spans.first()?.settled()?).settled()?;
            Some(Round { start: settled, highest: (settled[0], 0.0), lowest: settled[0], second_highest: settled[1] })
        }
        CycleKind::ShortTime => {
            let on = spans.first()?;
            let round = follow(&on.flows(body, on.duration), body.cold);
            round.highest.0.is_finite().then_some(round)
        }
        CycleKind::Repeated => periodic(&flows(spans, body, 1.0, 1.0)),
    }
}

/// Mean of the first value in each span, from the round's start; infinite where there is no round.
pub(super) fn means(spans: &[SpanLoads], body: &Body, round: Option<&Round>) -> Vec<f64> {
    let mut x = round.map_or([f64::INFINITY; 2], |round| round.start);
    let mean = |span: &SpanLoads| {
        if !x[0].is_finite() {
            return f64::INFINITY;
        }
        let mut sum = 0.0;
        let mut settled = x[0];
        for (t, flow) in span.flows(body, span.duration) {
            settled = flow.mean(x, t)[0];
            sum += if t.is_finite() { settled * t } else { 0.0 };
            x = flow.after(x, t);
        }
        if span.duration.is_finite() { sum / span.duration } else { settled }
    };
    spans.iter().map(mean).collect()
}

/// Points of each stretch of a curve, and of one that lasts long.
const POINTS: u32 = 3;
const MANY_POINTS: u32 = 24;

/// A body's values through the cycle from a start; of S1 the settled value, of S2 the time energised.
pub(super) fn curve(cycle: &Cycle, spans: &[SpanLoads], body: &Body, start: Pair) -> Vec<(f64, f64)> {
    let whole = match cycle.kind() {
        CycleKind::Continuous => return vec![(0.0, start[0])],
        CycleKind::ShortTime => cycle.on_time(None),
        CycleKind::Repeated => cycle.time().unwrap_or(0.0),
    };
    let (mut x, mut t) = (start, 0.0);
    let mut points = vec![(0.0, x[0])];
    let finite = spans.iter().filter(|span| span.duration.is_finite());
    for (lasts, flow) in finite.flat_map(|span| span.flows(body, span.duration)) {
        let count = if lasts > 0.02 * whole { MANY_POINTS } else { POINTS };
        points.extend((1..=count).map(|k| {
            let within = lasts * f64::from(k) / f64::from(count);
            (t + within, flow.after(x, within)[0])
        }));
        (x, t) = (flow.after(x, lasts), t + lasts);
    }
    points
}

/// Where a body settles if the busiest of the cycle's directions is held for ever; infinite when it never does.
pub(super) fn if_held(spans: &[SpanLoads], body: &Body) -> f64 {
    let on = spans.iter().filter(|span| span.call.is_some()).filter_map(SpanLoads::settled);
    on.map(|means| settles(&body.flow(means), body.cold)).fold(f64::NEG_INFINITY, f64::max)
}

fn settles(flow: &LinearFlow, cold: Pair) -> f64 {
    // A breaker's accumulator that neither decays nor is fed stays cold.
    let fed = flow.rate(cold)[0] > 0.0;
    flow.settled().map_or(if fed { f64::INFINITY } else { cold[0] }, |x| x[0])
}

/// How long a body that is cold may be energised, in the busiest of the cycle's spans (of one direction if given), s; infinite
/// without end.
pub(super) fn on_from_cold(spans: &[SpanLoads], body: &Body, limit: f64, direction: Option<Direction>) -> f64 {
    let on = spans.iter().filter(|span| span.call.is_some() && (direction.is_none() || span.call == direction));
    let times = on.filter_map(|span| reaches(&span.flows(body, f64::INFINITY), body.cold, limit));
    times.fold(f64::INFINITY, f64::min)
}

/// Highest value with the times energised and at rest stretched.
fn highest(spans: &[SpanLoads], body: &Body, on: f64, rest: f64) -> f64 {
    periodic(&flows(spans, body, on, rest)).map_or(f64::INFINITY, |round| round.highest.0)
}

/// The largest factor in (0, `most`] for which `holds`, when it does for all smaller ones; zero when for none.
fn largest(most: f64, holds: impl Fn(f64) -> bool) -> f64 {
    if holds(most) {
        return most;
    }
    let (mut low, mut high) = (most * 1e-15, most);
    if !holds(low) {
        return 0.0;
    }
    while high / low > 1.0 + 1e-12 {
        let middle = (low * high).sqrt();
        if !(middle > low && middle < high) {
            break;
        }
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}

/// The longest run in each direction that the cycle has, s, when all its runs are stretched alike.
pub(super) fn longest_on(cycle: &Cycle, spans: &[SpanLoads], body: &Body, limit: f64) -> [Option<f64>; 2] {
    let factor = stretch_on(spans, body, limit);
    Direction::BOTH.map(|direction| {
        let run = cycle.longest_on(direction);
        (run > 0.0).then(|| (run * factor).min(on_from_cold(spans, body, limit, Some(direction))))
    })
}

/// The factor by which the times energised may be stretched with the rests as they are; infinite without end.
fn stretch_on(spans: &[SpanLoads], body: &Body, limit: f64) -> f64 {
    if if_held(spans, body) <= limit && highest(spans, body, WIDEST, 1.0) <= limit {
        return f64::INFINITY;
    }
    let factor = largest(WIDEST, |on| highest(spans, body, on, 1.0) <= limit);
    if factor >= WIDEST { f64::INFINITY } else { factor }
}

/// The factor to which the rests may be shortened with the times energised as they are; infinite when no rest is long enough.
pub(super) fn shrink_rest(spans: &[SpanLoads], body: &Body, limit: f64) -> f64 {
    if highest(spans, body, 1.0, WIDEST) > limit {
        return f64::INFINITY;
    }
    // The larger the inverse of the factor, the shorter the rests.
    let inverse = largest(WIDEST, |inverse| highest(spans, body, 1.0, 1.0 / inverse) <= limit);
    if inverse >= WIDEST { 0.0 } else { 1.0 / inverse }
}

/// The largest share of the cycle, at its own length, for which it may be energised: up to 1.
pub(super) fn duty_factor(cycle: &Cycle, spans: &[SpanLoads], body: &Body, limit: f64) -> Option<f64> {
    let (whole, share) = (cycle.time()?, cycle.duty_factor()?);
    let rest = 1.0 - share;
    if rest <= 0.0 || cycle.kind() != CycleKind::Repeated {
        return None;
    }
    if if_held(spans, body) <= limit && highest(spans, body, 1.0 / share, 1e-9 / whole) <= limit {
        return Some(1.0);
    }
    let most = (1.0 - 1e-9) / share;
    Some(share * largest(most, |on| highest(spans, body, on, (1.0 - on * share) / rest) <= limit))
}

/// After S2: how long until a body is cold again, s; infinite when it never is.
pub(super) fn cold_again(spans: &[SpanLoads], body: &Body) -> f64 {
    let [on, rest] = spans else { return f64::NAN };
    let mut x = body.cold;
    for (t, flow) in on.flows(body, on.duration) {
        x = flow.after(x, t);
    }
    let scale = if body.unit == "degC" { COLD_AGAIN_K } else { COLD_AGAIN_SHARE };
    // Falling: the other way round.
    let turned = |flow: LinearFlow| LinearFlow { b: flow.b.map(|b| -b), ..flow };
    let stretches: Vec<_> = rest.flows(body, rest.duration).into_iter().map(|(t, flow)| (t, turned(flow))).collect();
    reaches(&stretches, x.map(|x| -x), -(body.cold[0] + scale)).unwrap_or(f64::INFINITY)
}
