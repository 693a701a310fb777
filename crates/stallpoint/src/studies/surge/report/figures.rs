//! Surge figures in both directions, and peaks by part.

use super::super::{DirectionRuns, PartPeaks, SurgeStudy};
use crate::drive::Direction;
use crate::report::{Document, Table, maybe, number, quantity};

/// Current below which a contact only leaks, A.
const LEAKS: f64 = 1e-3;

pub(super) fn add(study: &SurgeStudy, report: &mut Document) {
    report.heading(2, "The start-up surge");
    let runs = &study.directions;
    let mut table = Table::new(1, ["from rest, control held".to_string()]);
    table.columns.extend(runs.iter().map(|runs| (runs.direction.to_string(), crate::report::Align::Right)));
    let mut figure = |name: &str, of: &dyn Fn(&DirectionRuns) -> String| {
        table.row(std::iter::once(name.to_string()).chain(runs.iter().map(of)));
    };
    let device = study.drive.protection();
    let through = device.name();
    figure(&format!("largest current through the {through}"), &|r| quantity(r.start.surge.peak_current, "A"));
    figure("time of that peak", &|r| quantity(r.start.surge.time_of_peak, "s"));
    figure("largest current through the motor", &|r| quantity(r.start.surge.peak_motor_current, "A"));
    figure(&format!("locked-rotor peak through the {through}"), &|r| quantity(r.stalled.surge.peak_current, "A"));
    figure("time to 95 % of the settled speed", &|r| maybe(r.start.surge.time_to_speed, "s"));
    figure(&format!("i²t of the surge through the {through}"), &|r| {
        format!("{} A²s", number(r.start.surge.surge_i2t))
    });
    figure("lowest voltage between supply and ground stud", &|r| quantity(r.start.surge.lowest_stud_voltage, "V"));
    figure("lowest voltage at the energised coil", &|r| quantity(r.start.surge.lowest_coil_voltage, "V"));
    let opens = device.opens().trim_end_matches('s');
    figure(&format!("does the {through} {opens} during the hold"), &|r| r.start.surge.trips.to_string());
    figure("drop-outs of the contactor", &|r| r.start.surge.dropouts.to_string());
    figure("at the end of the hold", &|r| r.held().to_string());
    report.table(table);
    let caption =
        "Rms current since energising, which a thermal device feels, laid over the trip band; current across, time up.";
    report.picture(super::trip_picture::picture(study), caption);
    report.paragraph(&study.picture.caption);

    report.heading(2, "Peak currents by part");
    for direction in Direction::BOTH {
        report.table(peaks(&study.peaks, direction));
    }
    report.paragraph(
        "\"reversal\" begins in the direction named and turns to the other. A part that only leaks shows 0 A.",
    );
    report.paragraph(braking(study));
}

fn peaks(parts: &[PartPeaks], direction: Direction) -> Table {
    let of = |part: &PartPeaks| -> Vec<(&'static str, f64)> {
        let own = part.peaks.iter().filter(|peak| peak.0 == direction);
        own.map(|&(_, run, current, _)| (run, if current < LEAKS { 0.0 } else { current })).collect()
    };
    let runs = parts.first().map(of).unwrap_or_default();
    let mut table =
        Table::new(1, std::iter::once(direction.to_string()).chain(runs.iter().map(|(run, _)| run.to_string())));
    for part in parts {
        let peaks = of(part).into_iter().map(|(_, current)| quantity(current, "A"));
        table.row(std::iter::once(part.part.to_string()).chain(peaks));
    }
    table
}

/// Braking through the rest contacts never passes the breaker, however large it is.
fn braking(study: &SurgeStudy) -> String {
    let motor = study.peaks.iter().find(|part| part.part == "motor");
    let peak = |wanted: &str| {
        let peaks = motor.into_iter().flat_map(|motor| &motor.peaks).filter(|peak| peak.1 == wanted);
        peaks.copied().max_by(|a, b| a.2.total_cmp(&b.2))
    };
    let (Some(start), Some(release)) = (peak("start"), peak("release")) else { return String::new() };
    let braked = study.drive.contactor.rest == crate::parts::RestPosition::Braked;
    let (surge, brake) = (quantity(start.2, "A"), quantity(release.2, "A"));
    let device = study.drive.protection().name();
    match (braked, release.2 > start.2) {
        (false, _) => "The contactor is open at rest: a released motor coasts and no braking current flows.".into(),
        (true, true) => format!(
            "On release the motor brakes itself through the rest contacts: {brake} ({}), more than the start-up surge of \
             {surge}. This current never passes the {device}, so nothing but the contacts and the motor limits it.",
            release.0
        ),
        (true, false) => format!(
            "On release the motor brakes itself through the rest contacts: up to {brake} ({}), less than the start-up surge \
             of {surge} here. This current never passes the {device}.",
            release.0
        ),
    }
}
