//! The stalled drive as a table and in words.

use super::super::{JointState, StalledCase, SurgeStudy};
use crate::drive::{Direction, First, StallThreshold};
use crate::report::{Document, Table, both_ways, quantity};

pub(super) fn add(study: &SurgeStudy, report: &mut Document) {
    report.heading(2, "Stalled, control held");
    let thresholds = Direction::BOTH.into_iter().zip(&study.thresholds);
    let words = thresholds.map(|(direction, threshold)| threshold_words(&study.options.joint, direction, threshold));
    both_ways(words).into_iter().for_each(|words| report.paragraph(words));
    let columns = [
        "stalled",
        "joint",
        "resistance",
        "current",
        "heat in joint",
        "fastest trips after",
        "slowest trips after",
        "winding limit after",
        "cable limit after",
    ];
    let mut table = Table::new(2, columns);
    for case in &study.stalled {
        let time = |time: Option<f64>| time.map_or_else(|| "not known".into(), |time| quantity(time, "s"));
        let trip = |time: Option<f64>| time.map_or_else(|| "never".into(), |time| quantity(time, "s"));
        table.row([
            case.direction.to_string(),
            format!("{} {}", case.joint, case.joint_state),
            quantity(case.joint_resistance, "ohm"),
            quantity(case.current, "A"),
            quantity(case.joint_power, "W"),
            trip(case.trips_after[0]),
            trip(case.trips_after[1]),
            time(case.winding_limit_after),
            time(case.cable_limit_after),
        ]);
    }
    report.table(table);
    report.list(both_ways(study.stalled.iter().map(case_words)));
}

fn threshold_words(joint: &str, direction: Direction, threshold: &StallThreshold) -> String {
    let ohms = |value: f64| quantity(value, "ohm");
    let stalls = match threshold.stalls_at {
        Some(0.0) => "the motor does not break away even with the best of joints".into(),
        Some(limit) => format!("above {} the motor does not break away", ohms(limit)),
        None => "no resistance up to 1 kΩ keeps the shaft from turning".into(),
    };
    let drops = match threshold.drops_out_at {
        Some(0.0) => "the contactor lets go even with the best of joints".into(),
        Some(limit) => format!("above {} the contactor lets go under locked-rotor current and chatters", ohms(limit)),
        None => "it never makes the contactor let go".into(),
    };
    let first = match threshold.which_first {
        First::Stalls if threshold.drops_out_at.is_some() => ": the motor stalls first",
        First::DropsOut => ": the contactor lets go first",
        First::Stalls | First::Neither => "",
    };
    format!("{joint}, {direction}: {stalls}; {drops}{first}.")
}

fn case_words(case: &StalledCase) -> String {
    let subject = format!("{}, {} {}", case.direction, case.joint, case.joint_state);
    if case.drops_out {
        return format!(
            "{subject}: the contactor lets go at less and chatters; the figures hold only while it is held in."
        );
    }
    let device = case.device;
    let trips = match case.trips_after {
        [None, _] => format!("no {device} of this kind ever opens"),
        [Some(fast), None] => format!("a fast {device} opens after {}, a slow one never", quantity(fast, "s")),
        [Some(fast), Some(slow)] => {
            format!("the {device} opens after {} to {}", quantity(fast, "s"), quantity(slow, "s"))
        }
    };
    let end = match (case.protected(), case.advice()) {
        (None, _) => "what winding and cable withstand is not known".into(),
        (_, Some(advice)) => advice,
        _ => match (case.unknown(), case.trips_after[0]) {
            (None, None) => "neither winding nor cable gets to its limit".into(),
            (None, Some(_)) => "in time for winding and cable".into(),
            (Some(unknown), _) => format!("in time for the other, but what the {unknown} withstands is not known"),
        },
    };
    let burns = match case.joint_state {
        JointState::AsNew => String::new(),
        _ => format!(" The joint gives off {} meanwhile: hot enough to burn.", quantity(case.joint_power, "W")),
    };
    format!("{subject}: {trips}; {end}.{burns}")
}
