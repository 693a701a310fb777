//! The procedure of common practice for a drive, with what it should read and what other values mean.

use super::finder::FaultFinder;
use super::limits::between;
use super::measurement::{Measurement, Observed, Tool};
use super::position::Held;
use crate::drive::Drive;
use crate::error::Error;
use crate::parts::load::Load;
use crate::report::{Document, quantity};
use crate::tables::Chemistry;

/// The steps of common practice: supply, ground, signals, the contactor each way, the motor.
const STEPS: [(&str, Tool, Held, &str, &str); 15] = [
    ("Supply at rest", Tool::Voltmeter, Held::AtRest, "battery_positive", "battery_negative"),
    ("Supply at rest, at the contactor", Tool::Voltmeter, Held::AtRest, "supply_stud", "battery_negative"),
    ("Supply with a load on it", Tool::TestLamp, Held::AtRest, "supply_stud", "ground_stud"),
    ("Battery under load", Tool::Voltmeter, Held::Forward, "battery_positive", "battery_negative"),
    ("Supply under load", Tool::Voltmeter, Held::Forward, "supply_stud", "ground_stud"),
    ("Ground under load", Tool::Voltmeter, Held::Forward, "ground_stud", "battery_negative"),
    ("Ground joint, stud against lug", Tool::Voltmeter, Held::Forward, "ground_stud", "ground_stud_lug"),
    ("Case against ground stud", Tool::Voltmeter, Held::Forward, "ground_stud", "case"),
    ("Signal A", Tool::LowImpedance, Held::Forward, "coil_a_lug", "coil_return"),
    ("Signal B", Tool::LowImpedance, Held::Reverse, "coil_b_lug", "coil_return"),
    ("Return of the coils", Tool::Voltmeter, Held::Forward, "coil_return", "battery_negative"),
    ("Contactor forward", Tool::Voltmeter, Held::Forward, "supply_stud", "motor_a_stud"),
    ("Contactor forward, the other side", Tool::Voltmeter, Held::Forward, "motor_b_stud", "ground_stud"),
    ("Contactor reverse", Tool::Voltmeter, Held::Reverse, "motor_a_stud", "motor_b_stud"),
    ("Motor", Tool::Voltmeter, Held::Forward, "motor_a", "motor_b"),
];

/// Faults named for a step.
const NAMED: usize = 4;

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
    if drive.breaker.reset != crate::parts::Reset::Manual {
        list.push(
            "The breaker may close again by itself and restart the motor without warning: isolate, never wait for it."
                .into(),
        );
    }
    if drive.battery.chemistry != Chemistry::LithiumIronPhosphate {
        list.push("Lead-acid gas: no sparks at the battery, the last connection away from it, eye protection.".into());
    }
    list.extend([
        "Jewellery off, insulated tools: fault current may exceed a kiloampere.".to_string(),
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
        for (index, (title, tool, held, plus, minus)) in STEPS.into_iter().enumerate() {
            let measurement = Measurement::between(tool, held, plus, minus);
            document.heading(3, format!("{}. {title}", index + 1));
            document.list(self.step(&measurement)?);
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

    /// Lines of a step.
    fn step(&mut self, measurement: &Measurement) -> Result<Vec<String>, Error> {
        let (healthy, deviation) = self.healthy(measurement)?;
        let unit = measurement.tool.unit();
        let shown = |observed: &Observed| match observed {
            Observed::Number(value) => quantity(*value, unit),
            word => word.to_string(),
        };
        let band = deviation.map_or(String::new(), |deviation| format!(" ± {}", quantity(2.0 * deviation, unit)));
        let mut lines = vec![format!("Measure: {measurement}."), format!("Healthy: {}{band}.", shown(&healthy))];
        if self.table.bench.nominal == 12.0
            && let Some(limit) = between(&measurement.plus, &measurement.minus)
        {
            let (word, value) = match (limit.highest, limit.lowest) {
                (Some(highest), _) => ("at most", highest),
                (_, lowest) => ("at least", lowest.unwrap_or(0.0)),
            };
            let value = quantity(value, "V");
            lines.push(format!("Published limit: {word} {value} for {} ({}).", limit.words, limit.doc));
        }
        for (words, observed) in self.meanings(measurement)? {
            lines.push(format!("{}: {words}.", shown(&observed)));
        }
        lines.push(format!("Caution: {}", measurement.caution()));
        Ok(lines)
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

    /// The most usual faults that move a reading away from healthy, with what it shows then.
    fn meanings(&mut self, measurement: &Measurement) -> Result<Vec<(String, Observed)>, Error> {
        let column = self.column(measurement)?;
        let sound = self.table.hypotheses[0].cases.start;
        let mut found: Vec<(f64, usize, usize)> = Vec::new();
        for (entry, own) in self.table.entries.iter().enumerate() {
            let cases = self
                .table
                .hypotheses
                .iter()
                .filter(|h| h.entry == Some(entry) && h.severity == own.amount.is_some() as usize);
            let Some(case) = cases.map(|h| h.cases.start).next() else { continue };
            let off = column.off(case, column.shown[sound]).abs().min(column.off(sound, column.shown[case]).abs());
            if off > 4.0 {
                found.push((own.prior, entry, case));
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        let words =
            |&(_, entry, case): &(f64, usize, usize)| (self.table.entries[entry].words.clone(), column.observed(case));
        Ok(found.iter().take(NAMED).map(words).collect())
    }
}
