//! A current or a voltage over time, as a polyline.

use crate::circuit::{Run, Signal};
use crate::error::Error;

/// A current or a voltage over time: straight lines between points, close to the run's dense output.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Waveform {
    /// Times, s, never falling; two at a jump.
    pub time: Vec<f64>,
    /// Its values, A or V.
    pub value: Vec<f64>,
}

/// Steps longer than this are cut into as many pieces, s, but not into more than these.
const PIECE: f64 = 1e-3;
const MOST: u32 = 8;

impl Waveform {
    /// Of a signal, each value as `seen`: its magnitude, or what flows one way.
    pub(super) fn of(run: &Run, signal: &Signal, seen: impl Fn(f64) -> f64) -> Result<Self, Error> {
        let points = run.polyline(signal, PIECE, MOST)?;
        let first = points.first().map_or(0.0, |point| point.0);
        let mut wave = Self::default();
        for (time, value) in points {
            wave.time.push(time - first);
            wave.value.push(seen(value));
        }
        Ok(wave)
    }

    /// How long it is, s.
    pub fn length(&self) -> f64 {
        self.time.last().copied().unwrap_or(0.0)
    }

    /// Its value at a time; that at the end for later ones.
    pub fn at(&self, time: f64) -> f64 {
        let after = self.time.partition_point(|&own| own <= time);
        match (after.checked_sub(1), self.time.get(after)) {
            (Some(before), Some(&next)) => {
                let (t, i) = (self.time[before], self.value[before]);
                i + (self.value[after] - i) * (time - t) / (next - t)
            }
            (Some(before), None) => self.value[before],
            (None, _) => self.value.first().copied().unwrap_or(0.0),
        }
    }

    /// Its beginning, up to a time, s.
    pub fn until(&self, time: f64) -> Self {
        let keep = self.time.partition_point(|&own| own <= time);
        let mut wave = Self { time: self.time[..keep].to_vec(), value: self.value[..keep].to_vec() };
        if keep < self.time.len() {
            wave.time.push(time);
            wave.value.push(self.at(time));
        }
        wave
    }

    /// The longest time from when it passes a level until it is back at another one, no higher, s, and when that begins.
    pub fn longest_above(&self, level: f64, back: f64) -> (f64, f64) {
        let mut longest = (0.0, 0.0);
        let mut since: Option<f64> = None;
        let mut close = |since: &mut Option<f64>, at: f64| {
            if let Some(from) = since.take()
                && at - from > longest.0
            {
                longest = (at - from, from);
            }
        };
        for k in 0..self.time.len() {
            let (t, i) = (self.time[k], self.value[k]);
            let (before, last) = if k == 0 { (t, i) } else { (self.time[k - 1], self.value[k - 1]) };
            let crossing = |at: f64| if i == last { t } else { before + (t - before) * (at - last) / (i - last) };
            if since.is_none() && i > level {
                since = Some(if k == 0 { t } else { crossing(level).clamp(before, t) });
            } else if since.is_some() && i <= back {
                close(&mut since, crossing(back).clamp(before, t));
            }
        }
        close(&mut since, self.length());
        longest
    }

    /// The same below a level, until it is back at one no lower.
    pub fn longest_below(&self, level: f64, back: f64) -> (f64, f64) {
        let turned = Self { time: self.time.clone(), value: self.value.iter().map(|value| -value).collect() };
        turned.longest_above(-level, -back)
    }
}
