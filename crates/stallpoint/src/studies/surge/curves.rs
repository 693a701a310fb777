//! Curves of the picture that lays the surge over the trip band.

use super::DirectionRuns;
use super::withstand::cable_limit_time;
use crate::circuit::Signal;
use crate::drive::Drive;
use crate::error::Error;
use crate::report::{number, quantity};

/// A curve: current in A against time in s.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Curve {
    /// Currents, A.
    pub current: Vec<f64>,
    /// Times, s.
    pub time: Vec<f64>,
}

/// Everything the picture shows, current across and time up.
#[derive(Debug, Clone, PartialEq)]
pub struct TripPicture {
    /// Fastest device of the band.
    pub fastest: Curve,
    /// Slowest device of the band.
    pub slowest: Curve,
    /// Limit of the supply cable, `k² S²` bending with its ampacity; empty when its insulation has no value.
    pub cable: Curve,
    /// Ampacity of the supply cable, A.
    pub ampacity: Option<f64>,
    /// Rms current through the breaker since energising, against the time since then: what a slow device feels.
    pub rms: Curve,
    /// Rated current of the breaker, A.
    pub rated: f64,
    /// What decides, in one sentence.
    pub caption: String,
}

/// Points on each curve.
const POINTS: usize = 200;

pub(super) fn picture(drive: &Drive, runs: &DirectionRuns) -> Result<TripPicture, Error> {
    let device = drive.protection();
    let rated = device.rated_current().si();
    let currents: Vec<f64> = (0..=POINTS).map(|k| rated * 0.5 * 40.0_f64.powf(k as f64 / POINTS as f64)).collect();
    let edge = |position: f64| {
        let mut curve = Curve::default();
        for &current in &currents {
            if let Some(time) = device.trip_time(position, current) {
                curve.current.push(current);
                curve.time.push(time);
            }
        }
        curve
    };
    let mut cable = Curve::default();
    for &current in &currents {
        if let Some(time) = cable_limit_time(&drive.supply_cable, current).filter(|time| time.is_finite()) {
            cable.current.push(current);
            cable.time.push(time);
        }
    }
    let rms = rms(drive, runs)?;
    Ok(TripPicture {
        fastest: edge(0.0),
        slowest: edge(1.0),
        cable,
        ampacity: drive.supply_cable.ampacity.map(|a| a.si()),
        caption: caption(drive, runs)?,
        rms,
        rated,
    })
}

/// Rms of the breaker's current since energising, at times spread evenly in their logarithm.
fn rms(drive: &Drive, runs: &DirectionRuns) -> Result<Curve, Error> {
    let breaker = Signal::Current(drive.protection().name().into());
    let times = runs.start.time();
    let sums = runs.start.accumulated(&breaker, |i| i * i)?;
    let end = times.last().copied().unwrap_or(0.0);
    let first = 1e-3; // s: shorter than any trip time of the band
    let mut curve = Curve::default();
    for k in 0..=POINTS {
        let wanted: f64 = first * (end / first).powf(k as f64 / POINTS as f64);
        let row = times.partition_point(|&time| time < wanted);
        if let (Some(time), Some(sum)) = (times.get(row), sums.get(row)) {
            curve.current.push((sum / time).sqrt());
            curve.time.push(*time);
        }
    }
    Ok(curve)
}

fn caption(drive: &Drive, runs: &DirectionRuns) -> Result<String, Error> {
    let device = drive.protection();
    let fraction = |edge: &str| -> Result<f64, Error> {
        Ok(runs.start.extremes(&Signal::State(device.name().into(), format!("trip_fraction_{edge}")))?.max)
    };
    let surge = &runs.start.surge;
    Ok(format!(
        "Start {}: peak {} at {}. The accumulated trip fraction decides, not the crossing of lines: {} of 1 on the fastest device, {} on the slowest; the {} {} {}.",
        runs.direction,
        quantity(surge.peak_current, "A"),
        quantity(surge.time_of_peak, "s"),
        number(fraction("fastest")?),
        number(fraction("slowest")?),
        device.name(),
        match surge.trips {
            crate::drive::Trips::No => "does not",
            crate::drive::Trips::May => "may",
            crate::drive::Trips::Will => "will",
        },
        device.opens().trim_end_matches('s'),
    ))
}
