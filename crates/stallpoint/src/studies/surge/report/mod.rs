//! The surge study as a report.

mod cautions;
mod drive;
mod figures;
mod loop_picture;
mod notes;
mod stalled;
mod trip_picture;
mod volts;
mod volts_picture;

use super::SurgeStudy;
use crate::report::{Document, add_requirements, counts};

impl SurgeStudy {
    /// The report: the drive as understood, verdicts, surge, peaks, where the volts go, stalled, assumptions, cautions,
    /// sources.
    pub fn document(&self) -> Document {
        let mut report = Document::default();
        report.heading(1, format!("Surge study: {}", self.drive.name));
        if !self.drive.note.is_empty() {
            report.paragraph(&self.drive.note);
        }
        drive::add(&self.drive, &mut report);
        for doubt in self.drive.doubts() {
            report.paragraph(format!("Is this meant? {doubt}"));
        }
        let caption = "The loop as studs, lugs and cables: the way to the motor solid, the way back dashed, control wires thin. Each \
                       number is a stud with the joint on it; a joint far from new is filled and bold.";
        report.picture(loop_picture::picture(&self.drive), caption);
        if let Some(words) = self.never_starts() {
            report.paragraph(words);
        }
        add_requirements(&self.checks, &mut report);
        figures::add(self, &mut report);
        volts::add(self, &mut report);
        stalled::add(self, &mut report);
        notes::add_assumptions(self, &mut report);
        cautions::add(self, &mut report);
        notes::add_sources(&self.drive, &mut report);
        report
    }

    /// How many requirements got which verdict, worst first, in one line; first of all whether the contactor pulls in.
    pub fn summary(&self) -> String {
        let first = self.never_starts().map_or_else(String::new, |words| format!("{words} "));
        first + &counts(&self.checks)
    }

    /// That the contactor does not pull in, where it does not.
    fn never_starts(&self) -> Option<String> {
        let not = self.facts.directions.iter().filter(|facts| !facts.pulls_in());
        let not: Vec<String> = not.map(|facts| facts.direction.to_string()).collect();
        (!not.is_empty()).then(|| {
            format!(
                "The contactor does not pull in, {}: the motor does not start, and what hangs on it was not reached.",
                not.join(" and ")
            )
        })
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
}
