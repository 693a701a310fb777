//! Where the volts go.

use super::DirectionRuns;
use crate::circuit::{OperatingPoint, Trace};
use crate::drive::{Control, Direction, Drive};
use crate::error::Error;

/// Voltage lost over one element of the loop.
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// The element.
    pub element: String,
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Volts from the first point to the second.
    pub volts: f64,
}

/// The loop's voltages in one state of the drive.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltsLost {
    /// Which state: "at rest", "at the surge's peak, 0.021 s", "running".
    pub when: String,
    /// Battery terminal voltage, V.
    pub battery: f64,
    /// Every element from battery positive round to battery negative.
    pub drops: Vec<Drop>,
}

impl VoltsLost {
    /// Sum over the elements whose name `picks` accepts, V.
    pub fn sum(&self, picks: impl Fn(&str) -> bool) -> f64 {
        self.drops.iter().filter(|drop| picks(&drop.element)).map(|drop| drop.volts).sum()
    }
}

/// The loop in a direction: element, from, to.
pub(super) fn elements(direction: Direction) -> Vec<(String, String, String)> {
    let (first, second) = match direction {
        Direction::Forward => ("a", "b"),
        Direction::Reverse => ("b", "a"),
    };
    let mut points: Vec<(String, String)> = Vec::new();
    let mut go = |element: &str, to: String| points.push((element.into(), to));
    go("battery_positive_joint", "battery_positive_lug".into());
    go("battery_lead", "isolator_in_lug".into());
    go("isolator_in_joint", "isolator_in".into());
    go("isolator", "isolator_out".into());
    go("isolator_out_joint", "isolator_out_lug".into());
    go("isolator_lead", "breaker_in_lug".into());
    go("breaker_in_joint", "breaker_in".into());
    go("breaker", "breaker_out".into());
    go("breaker_out_joint", "breaker_out_lug".into());
    go("supply_cable", "supply_stud_lug".into());
    go("supply_stud_joint", "supply_stud".into());
    go("contactor, supply side", format!("motor_{first}_stud"));
    go(&format!("motor_{first}_stud_joint"), format!("motor_{first}_stud_lug"));
    go(&format!("motor_lead_{first}"), format!("motor_{first}_lug"));
    go(&format!("motor_{first}_joint"), format!("motor_{first}"));
    go("motor", format!("motor_{second}"));
    go(&format!("motor_{second}_joint"), format!("motor_{second}_lug"));
    go(&format!("motor_lead_{second}"), format!("motor_{second}_stud_lug"));
    go(&format!("motor_{second}_stud_joint"), format!("motor_{second}_stud"));
    go("contactor, ground side", "ground_stud".into());
    go("ground_stud_joint", "ground_stud_lug".into());
    go("ground_cable", "battery_negative_lug".into());
    go("battery_negative_joint", "battery_negative".into());
    let mut from = "battery_positive".to_string();
    points
        .into_iter()
        .map(|(element, to)| {
            let here = std::mem::replace(&mut from, to.clone());
            (element, here, to)
        })
        .collect()
}

/// The loop's voltages in the only row of a trace.
pub(super) fn in_row(trace: &Trace, direction: Direction, when: String) -> Result<VoltsLost, Error> {
    let mut drops = Vec::new();
    for (element, from, to) in elements(direction) {
        let volts = trace.voltage_between(&from, &to)?[0];
        drops.push(Drop { element, from, to, volts });
    }
    Ok(VoltsLost { when, battery: trace.voltage("battery_positive")?[0], drops })
}

/// At rest, at the peak of the surge, at the end of the hold.
pub(super) fn lost(drive: &Drive, runs: &DirectionRuns) -> Result<Vec<VoltsLost>, Error> {
    let rest: OperatingPoint = drive.circuit(&Control::new())?.operating_point()?;
    let peak_at = runs.start.surge.time_of_peak;
    let end = runs.start.time().last().copied().unwrap_or(0.0);
    let peak = runs.start.sample(&[peak_at])?;
    let last = runs.start.sample(&[end])?;
    let after = if runs.start.surge.stalled { "stalled" } else { "running" };
    Ok(vec![
        in_row(&rest, runs.direction, "at rest".into())?,
        in_row(&peak, runs.direction, format!("at the surge's peak, {peak_at:.3} s"))?,
        in_row(&last, runs.direction, format!("{after}, {end:.3} s"))?,
    ])
}
