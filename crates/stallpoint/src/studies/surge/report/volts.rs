//! Where the volts go, and the watts.

use super::super::volts::{Group, VoltsLost};
use super::super::{JointState, SurgeStudy};
use crate::report::{Document, Table, number, percent, quantity};

/// What is less shows as nothing: share of the open-circuit voltage, and W.
const LEAST_SHARE: f64 = 5e-5;
const LEAST_POWER: f64 = 1e-3;

pub(super) fn add(study: &SurgeStudy, report: &mut Document) {
    report.heading(2, "Where the volts go");
    let first = study.volts[0].open_circuit;
    report.paragraph(format!(
        "Voltage over every element from the battery round to battery negative; each column adds up to the open-circuit \
         voltage, {}. With the control at rest a meter at the supply stud reads it in full, however bad a joint is, for \
         no current flows: only the drop under load tells.",
        quantity(first, "V")
    ));
    // The threshold case in the direction of the other columns comes first in the list.
    let bad = study.stalled.iter().find(|case| case.joint_state == JointState::AtThreshold && !case.drops_out);
    let mut columns: Vec<&VoltsLost> = study.volts.iter().collect();
    columns.extend(bad.map(|case| &case.volts));

    let heads = columns.iter().map(|volts| volts.when.clone());
    let mut table = Table::new(1, std::iter::once("element, V".to_string()).chain(heads));
    for (k, drop) in study.volts[0].drops.iter().enumerate() {
        let volts = columns.iter().map(|column| fixed(column.drops.get(k).map_or(f64::NAN, |drop| drop.volts)));
        table.row(std::iter::once(drop.element.clone()).chain(volts));
    }
    table.row(std::iter::once("motor current, A".into()).chain(columns.iter().map(|c| number(clean(c.current)))));
    report.table(table);

    report.picture(
        super::volts_picture::picture(study),
        "Volts lost round the loop, forward; elements that never lose 0.3 % of the open-circuit voltage are left out.",
    );
    report.paragraph("The same in groups, with each one's share of the open-circuit voltage and its power:");
    let heads = columns[1..].iter().map(|volts| volts.when.clone());
    let mut table = Table::new(1, std::iter::once("group".to_string()).chain(heads));
    for group in Group::ALL {
        let cells = columns[1..].iter().map(|column| {
            let loss = column.group(group);
            let [share, watts] = [(loss.volts / column.open_circuit, LEAST_SHARE), (loss.watts, LEAST_POWER)]
                .map(|(value, least)| if value.abs() < least { 0.0 } else { value });
            format!("{} V, {}, {}", fixed(loss.volts), percent(share), quantity(watts, "W"))
        });
        table.row(std::iter::once(group.name().to_string()).chain(cells));
    }
    report.table(table);
    if let Some(case) = bad {
        let joint = case.volts.element(&case.joint).map_or(f64::NAN, |drop| drop.volts);
        let device = study.drive.protection();
        let rated = device.rated_current().si();
        let breaker = if case.current < rated {
            format!(", less than the {}'s rated current of {}: nothing opens", device.name(), quantity(rated, "A"))
        } else {
            String::new()
        };
        report.paragraph(format!(
            "With {} at {} the motor no longer breaks away ({}). It still draws {}{breaker}. The joint takes {} and turns \
             {} into heat.",
            case.joint,
            quantity(case.joint_resistance, "ohm"),
            case.direction,
            quantity(case.current, "A"),
            quantity(joint, "V"),
            quantity(case.joint_power, "W"),
        ));
    }
}

fn fixed(volts: f64) -> String {
    let text = format!("{volts:.3}");
    if text == "-0.000" { "0.000".into() } else { text }
}

/// A leak is no current worth showing.
fn clean(current: f64) -> f64 {
    if current < 1e-3 { 0.0 } else { current }
}
