//! Cautions, those that apply.

use super::super::SurgeStudy;
use crate::parts::Reset;
use crate::parts::load::Load;
use crate::report::{Document, quantity};
use crate::tables::Chemistry;

pub(super) fn add(study: &SurgeStudy, report: &mut Document) {
    let drive = &study.drive;
    report.heading(2, "Cautions");
    let mut cautions = vec![
        "Before work: isolate, lock or tag where that is required. Prove the tester on a known live source, prove the \
         circuit dead, prove the tester again."
            .to_string(),
    ];
    let hangs = drive.load.iter().any(Load::may_run_away);
    cautions.push(if hangs {
        "Block the load: it hangs on the shaft and may move when the drive lets go.".into()
    } else {
        "Block the load: once released it may move.".into()
    });
    match drive.protection().reset() {
        Reset::Manual => {}
        Reset::Automatic => cautions.push(
            "The breaker resets by itself and can restart the motor without warning: isolate, never wait for it."
                .into(),
        ),
        Reset::Modified => cautions.push(
            "The breaker resets by itself some time after the supply or the load was taken away: a trip does not isolate."
                .into(),
        ),
    }
    if drive.battery.chemistry != Chemistry::LithiumIronPhosphate {
        cautions.push(
            "Lead-acid batteries give off gas that explodes: no sparks near them, make the last connection away from the \
             battery, wear eye protection."
                .into(),
        );
    }
    cautions.push(
        "Take jewellery off and use insulated tools: a short circuit of the battery may drive more than a kiloampere."
            .into(),
    );
    cautions.push("With battery negative grounded: take the negative off first, put it on last.".into());
    let shortest = study.stalled.iter().filter(|case| case.protected() == Some(false));
    if let Some(limit) = shortest.filter_map(|case| case.hold_limit()).reduce(f64::min) {
        let unknown = study.stalled.iter().find_map(|case| case.unknown());
        let unknown = unknown.map_or(String::new(), |what| {
            format!(" What the {what} withstands is not known and may be much less: find out before you hold it.")
        });
        cautions.push(format!(
            "Do not hold a stalled motor longer than {}: the {} may not open in time. Let it cool before the next try.{unknown}",
            quantity(super::super::stalled::round_down(limit), "s"),
            drive.protection().name()
        ));
    }
    cautions.extend([
        "A bad joint may be hot enough to burn.".to_string(),
        "Measure resistance only on an isolated circuit. Lamp and meter must be rated for the voltage.".into(),
        "Local codes and licensed practice come first.".into(),
    ]);
    report.list(cautions);
}
