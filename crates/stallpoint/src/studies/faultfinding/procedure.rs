//! The procedure of common practice for a drive, with what it should read and what other values mean.

use super::case::short_circuit;
use super::finder::FaultFinder;
use super::measurement::{Measurement, Observed};
use super::steps::ProcedureStep;
use crate::drive::Drive;
use crate::error::Error;
use crate::parts::load::Load;
use crate::report::{Document, quantity};
use crate::tables::Chemistry;

/// The general cautions of work on such a drive, those that apply.
pub fn cautions(drive: &Drive) -> Vec<String> {
    let mut list = vec![
        "Local codes and licensed practice come first.".to_string(),
        "Isolate, lock or tag where that is required. Prove the tester on a known live source, prove dead, prove the tester again."
            .into(),
    ];
    list.push(if drive.load.iter().any(Load::may_run_away) {
        "Block the load: it hangs on the shaft and may move when the drive lets go.".into()
    } else {
        "Block the load: once released it may move.".into()
    });
    if drive.protection().reset() != crate::parts::Reset::Manual {
        list.push(
            "The breaker may close again by itself and restart the motor without warning: isolate, never wait for it."
                .into(),
        );
    }
    if drive.battery.chemistry != Chemistry::LithiumIronPhosphate {
        list.push("Lead-acid gas: no sparks at the battery, the last connection away from it, eye protection.".into());
    }
    let device = drive.protection().name();
    let short = short_circuit(drive)
        .map_or(String::new(), |a| format!(": a dead short behind the {device} draws about {}", quantity(a, "A")));
    list.extend([
        format!("Jewellery off, insulated tools{short}."),
        "On negative-ground systems negative off first and on last.".into(),
        "Do not hold a stalled motor beyond a few seconds; a bad joint may be hot enough to burn.".into(),
        "Resistance only on an isolated circuit; lamp and meter rated for the voltage.".into(),
    ]);
    list
}

impl FaultFinder {
    /// The procedure of common practice as a document: make safe, mark the wires, measure step by step, decide. Each step has its
    /// expected reading on a healthy drive, a published limit where there is one, what other values mean, and its caution.
    ///
    /// Limits: what other values mean comes from the finder's table: one fault at a time.
    ///
    /// # Errors
    /// Only those of the drive's own measurements: none that a user causes.
    pub fn procedure(&mut self) -> Result<Document, Error> {
        let drive = self.table.drive.clone();
        let mut document = Document::default();
        document.heading(1, format!("Fault finding: {}", drive.name));
        document.heading(2, "Make safe");
        document.list(cautions(&drive));
        document.heading(2, "Mark the wires");
        document.paragraph(
            "Before any wire comes off: mark it with the stud it sits on, and take a picture. The wiring map says where each belongs.",
        );
        document.heading(2, "Measure");
        let mut warned = Vec::new();
        for (index, step) in self.steps()?.iter().enumerate() {
            document.heading(3, format!("{}. {}", index + 1, step.title));
            document.list(lines(step, index + 1, &mut warned));
        }
        document.heading(2, "Decide");
        document.paragraph(
            "Common practice, no source: with good supply, good ground and good signals it is the contactor about nine times in ten. \
             Contrary readings overrule that: a contactor that passes its voltage drop is good, whatever is usual.",
        );
        document.paragraph(
            "After the repair, fill in the commissioning sheet: the same readings must be back in their bands.",
        );
        Ok(document)
    }

    /// What a healthy drive shows, and its deviation for numbers.
    pub(super) fn healthy(&mut self, measurement: &Measurement) -> Result<(Observed, Option<f64>), Error> {
        let column = self.column(measurement)?;
        let own = self.table.hypotheses[0].cases.clone();
        if !measurement.tool.words().is_empty() {
            return Ok((column.observed(own.start), None));
        }
        let n = own.len() as f64;
        let mean = own.clone().map(|case| column.shown[case]).sum::<f64>() / n;
        let variance = own.map(|case| (column.shown[case] - mean).powi(2)).sum::<f64>() / n;
        let meter = measurement.tool.deviation(mean);
        Ok((measurement.tool.observed(mean), Some((variance + meter * meter).sqrt())))
    }
}

/// A step in lines; what is dangerous is said in full in the first step that shows it.
fn lines(step: &ProcedureStep, number: usize, warned: &mut Vec<(String, usize)>) -> Vec<String> {
    let tool = step.measurement.tool;
    let band = step.tolerance.map_or(String::new(), |own| format!(" ± {}", quantity(own, tool.unit())));
    let mut lines = vec![
        format!("Measure: {}.", step.measurement),
        format!(
            "Tests: {}.",
            if step.tests.is_empty() { "nothing that this drive has".into() } else { step.tests.join("; ") }
        ),
        format!("Healthy: {}{band}.", tool.words_of(&step.healthy)),
    ];
    lines.extend(step.limits.iter().map(|limit| format!("Published limit: {limit}.")));
    for meaning in &step.meanings {
        let shows: Vec<String> = meaning.shows.iter().map(|shown| tool.words_of(shown)).collect();
        let between = if tool.words().is_empty() { " to " } else { " or " };
        lines.push(format!("{}: {}.", shows.join(between), meaning.faults.join("; or ")));
        for hazard in &meaning.hazards {
            match warned.iter().find(|(said, _)| said == hazard) {
                Some((_, before)) if *before == number => {}
                Some((_, before)) => lines.push(format!("Danger: as said in step {before}.")),
                None => {
                    lines.push(format!("Danger: {hazard}."));
                    warned.push((hazard.clone(), number));
                }
            }
        }
    }
    lines.push(format!("Caution: {}", step.caution));
    lines
}
