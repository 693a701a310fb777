//! The loads of a cycle's spans, in stretches.

use super::bodies::Body;
use super::flow::LinearFlow;
use crate::drive::Direction;

/// A span with its loads: what was followed in a fast run, and what it settled to, which goes on.
#[derive(Debug, Clone)]
pub(super) struct SpanLoads {
    pub(super) call: Option<Direction>,
    pub(super) duration: f64,
    /// Whether the shaft stands at the end although a direction is called for.
    pub(super) stalled: bool,
    /// Durations in s, each with the mean of every measure. The last goes on as long as the span does.
    pub(super) stretches: Vec<(f64, Vec<f64>)>,
}

impl SpanLoads {
    /// Its stretches if it lasted otherwise: cut short, or the last one longer.
    pub(super) fn lasting(&self, duration: f64) -> impl Iterator<Item = (f64, &[f64])> {
        let last = self.stretches.len().saturating_sub(1);
        let mut left = duration;
        self.stretches.iter().enumerate().filter_map(move |(k, (own, means))| {
            let takes = if k == last { left } else { own.min(left) };
            left -= takes;
            (takes > 0.0).then_some((takes, means.as_slice()))
        })
    }

    /// Mean of a measure over the span.
    pub(super) fn mean(&self, measure: usize) -> f64 {
        if !self.duration.is_finite() {
            return self.settled().map_or(0.0, |means| means[measure]);
        }
        self.lasting(self.duration).map(|(t, means)| t * means[measure]).sum::<f64>() / self.duration
    }

    /// What it settled to.
    pub(super) fn settled(&self) -> Option<&[f64]> {
        self.stretches.last().map(|(_, means)| means.as_slice())
    }

    /// A body's flow in it, if it lasts as given.
    pub(super) fn flows(&self, body: &Body, duration: f64) -> Vec<(f64, LinearFlow)> {
        self.lasting(duration).map(|(t, means)| (t, body.flow(means))).collect()
    }
}

/// A body's flow through the whole cycle with the times energised and at rest stretched.
pub(super) fn flows(spans: &[SpanLoads], body: &Body, on: f64, rest: f64) -> Vec<(f64, LinearFlow)> {
    let stretched = |span: &SpanLoads| span.duration * if span.call.is_some() { on } else { rest };
    spans.iter().flat_map(|span| span.flows(body, stretched(span))).collect()
}
