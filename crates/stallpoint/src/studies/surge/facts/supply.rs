//! What the battery saw.

use super::Found;
use super::waveform::Waveform;
use crate::circuit::Signal;
use crate::error::Error;
use crate::studies::surge::DirectionRuns;

/// Figures at the battery.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplyFacts {
    /// Lowest terminal voltage during the start, V.
    pub start_sag: Found,
    /// Lowest terminal voltage in any run, V.
    pub sag: Found,
    /// Highest terminal voltage in any run, V.
    pub highest: Found,
    /// Largest current out of the battery in any run, A.
    pub peak: Found,
    /// Largest current into the battery's plus in any run, A; not above zero when it is never charged.
    pub charging: Found,
    /// Current out of the battery in the runs, none while it is charged: what they are called, and the current.
    pub currents: Vec<(String, Waveform)>,
    /// Battery terminal voltage of the runs.
    pub voltages: Vec<(String, Waveform)>,
}

impl SupplyFacts {
    pub(super) fn of(runs: &DirectionRuns) -> Result<Self, Error> {
        let (voltage, current) =
            (Signal::Voltage("battery_positive".into()), Signal::State("battery".into(), "current".into()));
        let (mut start, mut lowest, mut highest, mut charging, mut peak) = (None, None, None, None, None);
        let (mut currents, mut voltages) = (Vec::new(), Vec::new());
        for (what, run) in runs.named() {
            let what = format!("{what} {}", runs.direction);
            let volts = run.extremes(&voltage)?;
            let sag = Found::new(volts.min, volts.min_at, &what);
            start = start.or_else(|| Some(sag.clone())); // the first run is the start
            lowest = Found::smaller(lowest, sag);
            highest = Found::larger(highest, Found::new(volts.max, volts.max_at, &what));
            let amperes = run.extremes(&current)?;
            peak = Found::larger(peak, Found::new(-amperes.min, amperes.min_at, &what));
            charging = Found::larger(charging, Found::new(amperes.max, amperes.max_at, &what));
            voltages.push((what.clone(), Waveform::of(run, &voltage, |volts| volts)?));
            currents.push((what, Waveform::of(run, &current, |amperes| (-amperes).max(0.0))?));
        }
        let none = || Found { value: f64::NAN, time: f64::NAN, when: String::new() }; // there are five runs
        Ok(Self {
            start_sag: start.unwrap_or_else(none),
            sag: lowest.unwrap_or_else(none),
            highest: highest.unwrap_or_else(none),
            charging: charging.unwrap_or_else(none),
            peak: peak.unwrap_or_else(none),
            currents,
            voltages,
        })
    }
}

/// The first cut-off of the battery's management, in words, with its run.
pub(super) fn cut_off(directions: &[DirectionRuns]) -> Option<String> {
    directions.iter().find_map(|runs| {
        runs.named().into_iter().find_map(|(what, run)| {
            let cuts = run.events.iter().find(|event| event.part == "battery" && event.what.starts_with("cuts off"))?;
            let at = crate::report::quantity(cuts.time, "s");
            Some(format!("{} {at} after the beginning: {what} {}", cuts.what, runs.direction))
        })
    })
}
