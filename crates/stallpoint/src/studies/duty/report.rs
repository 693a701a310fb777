//! The duty study as a report.

use super::bodies::AMPACITY_AMBIENT_C;
use super::study::{DutyStudy, PartDuty};
use super::{CycleKind, answers};
use crate::report::{Document, Table, add_requirements, counts, maybe, number, percent, quantity};

impl DutyStudy {
    /// The report: the cycle, verdicts, temperatures, times on and off, the contactor, the battery, assumptions.
    pub fn document(&self) -> Document {
        let mut report = Document::default();
        report.heading(1, format!("Duty study: {}", self.drive.name));
        if !self.drive.note.is_empty() {
            report.paragraph(&self.drive.note);
        }
        report.paragraph(format!("Cycle: {}.{}", self.cycle, self.shares()));
        add_requirements(&self.checks, &mut report);
        report.heading(2, "Loads");
        report.table(self.loads());
        report.paragraph(self.charge());
        report.heading(2, "How warm each part gets");
        report.table(self.warmth());
        if let Some(picture) = super::picture::picture(self) {
            report.picture(
                picture,
                "Temperatures through the cycle into which each part settles (in S2 while energised).",
            );
        }
        report.paragraph(
            "\"cold\" is after a long rest, \"if held\" where it settles if the control is held for ever. The figure of a breaker or fuse is its \
             accumulated trip fraction, a contact's the share of its rise at the carrying current.",
        );
        report.heading(2, "How long on, how long off");
        report.table(self.times());
        report.paragraph(
            "\"from cold\": how long it may be energised once, at rest before. The other columns change one thing in this cycle and \
             leave the rest as it is.",
        );
        report.heading(2, "Continuous or intermittent contactor?");
        report.paragraph(self.contactor.words());
        self.add_notes(&mut report);
        report
    }

    /// How many requirements got which verdict, worst first, in one line.
    pub fn summary(&self) -> String {
        counts(&self.checks)
    }

    /// The report as plain text with lines of at most 120 columns.
    pub fn to_text(&self) -> String {
        self.document().to_text()
    }

    /// The report as Markdown.
    pub fn to_markdown(&self) -> String {
        self.document().to_markdown()
    }

    /// The report as one self-contained HTML page.
    pub fn to_html(&self) -> String {
        self.document().to_html()
    }

    fn shares(&self) -> String {
        match (self.cycle.time(), self.cycle.duty_factor()) {
            (Some(whole), Some(share)) => {
                format!(" It takes {}; cyclic duration factor {}.", quantity(whole, "s"), percent(share))
            }
            _ => String::new(),
        }
    }

    fn loads(&self) -> Table {
        let mut table = Table::new(1, ["span", "lasts", "motor, rms", "motor, settled"]);
        for span in &self.spans {
            let what = span.call.map_or_else(|| "rest".into(), |call| call.to_string());
            let stalled = if span.stalled { ", stalled" } else { "" };
            let lasts = if span.duration.is_finite() { quantity(span.duration, "s") } else { "on".into() };
            table.row([
                format!("{what}{stalled}"),
                lasts,
                quantity(span.motor_rms, "A"),
                quantity(span.motor_settled, "A"),
            ]);
        }
        table
    }

    fn charge(&self) -> String {
        let battery = &self.battery;
        let (per, many) = match self.cycle.kind() {
            CycleKind::Continuous => ("An hour", "hours"),
            CycleKind::ShortTime => ("Once", "times"),
            CycleKind::Repeated => ("A cycle", "cycles"),
        };
        let hours = quantity(battery.charge / 3600.0, "Ah");
        let lasts = match battery.lasts.is_finite() {
            true => format!("; the charge described is used up after some {} {many}", number(battery.lasts)),
            false => String::new(),
        };
        format!("{per} takes {hours} out of the battery, {} of its capacity{lasts}.", percent(battery.share))
    }

    fn warmth(&self) -> Table {
        let mut table = Table::new(1, ["part", "rms current", "cold", "lowest", "highest", "if held", "limit"]);
        let value = |value: f64, unit: &str| match value.is_finite() {
            true => quantity(if value.abs() < 1e-6 { 0.0 } else { value }, unit),
            false => "no end".into(),
        };
        for part in &self.parts {
            table.row([
                part.part.clone(),
                maybe(part.rms_current.map(|i| if i < LEAKS { 0.0 } else { i }), "A"),
                value(part.cold, part.unit),
                value(part.lowest, part.unit),
                value(part.highest, part.unit),
                value(part.if_held, part.unit),
                maybe(part.limit, part.unit),
            ]);
            if let Some(case) = part.case_highest {
                let cells = ["motor case", "–", "–", "–", &value(case, part.unit), "–", "–"];
                table.row(cells.map(String::from));
            }
        }
        table
    }

    fn times(&self) -> Table {
        let rest = match self.cycle.kind() {
            CycleKind::ShortTime => "until cold again",
            _ => "shortest rest, all of a cycle's together",
        };
        let columns = [
            "part",
            "longest run, from cold",
            "longest run forward in the cycle",
            "longest run reverse in the cycle",
            rest,
            "largest duty factor at this cycle time",
        ];
        let mut table = Table::new(1, columns);
        let on = |time: Option<f64>| match time {
            Some(time) if time.is_infinite() => "any".into(),
            time => maybe(time, "s"),
        };
        let off = |part: &PartDuty| match part.shortest_rest {
            Some(time) if time.is_infinite() => "none is enough".into(),
            Some(time) if time < 1e-3 => "none needed".into(),
            time => maybe(time, "s"),
        };
        for part in self.parts.iter().filter(|part| part.limit.is_some()) {
            table.row([
                part.part.clone(),
                on(part.longest_on_from_cold),
                on(part.longest_on[0]),
                on(part.longest_on[1]),
                off(part),
                part.largest_duty_factor.map_or_else(|| "–".into(), percent),
            ]);
        }
        table
    }

    fn add_notes(&self, report: &mut Document) {
        report.heading(2, "Assumptions");
        let options = &self.options;
        let air = match options.ambient_c {
            Some(air) => format!("Air of {} around everything.", quantity(air.si(), "degC")),
            None => format!(
                "Air of {} around motor and coils (motor.ambient_c), of {AMPACITY_AMBIENT_C} °C around cables (that of an ampacity, \
                 IEC 60364-5-52, from memory).",
                quantity(self.drive.motor.armature().ambient_c.si(), "degC")
            ),
        };
        let mut notes = vec![
            format!(
                "Each span is followed for {} at most; what it has settled to by then goes on. The steady cycle is the fixed point \
                 of the cycle's heat, found after {} runs of one cycle; the last changed temperatures by {} K.",
                quantity(options.follow, "s"),
                self.passes,
                number(self.last_change)
            ),
            air,
            format!(
                "The current in a span is that of its mean temperature. The battery's charge stays as described, and the {} counts \
                 but does not open, nor does the battery's management.",
                self.drive.protection().name()
            ),
            "Surge, braking and reversal count in every span. A conductor's heat is that of its metal alone, a winding's that of \
             motor.heat_capacity."
                .into(),
        ];
        if self.cycle.kind() == CycleKind::ShortTime {
            notes.push(format!(
                "Cold again: within {} K of ambient, or at 0.02 of a limit without unit (IEC 60034-1 for S2, from memory).",
                answers::COLD_AGAIN_K
            ));
        }
        report.list(notes);
        report.heading(2, "Sources");
        report.list([
            "Duty types: IEC 60034-1 (from memory).",
            "Heat capacity and continuous limit of conductors: IEC 60364-5-54, Annex A, and IEC 60949.",
            "Copper: 0.00393 per kelvin at 20 °C, IEC 60028.",
            "Accumulated trip integral: IEEE C37.112; its decay below pick-up is our own.",
            "Everything else: the drive's description.",
        ]);
    }
}

/// Current below which a part only leaks, A.
const LEAKS: f64 = 1e-3;
