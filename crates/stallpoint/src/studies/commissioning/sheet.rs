//! The commissioning sheet.

use super::swaps::{swap_table, table};
use super::wiring_map::wiring_map;
use crate::drive::{Drive, fault_catalogue};
use crate::error::Error;
use crate::report::{Document, Table, Verdict, number};
use crate::studies::faultfinding::{Held, Measurement, Observed, ReadingRow, Tool, When, cautions, readings};

/// A line of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetLine {
    /// What to measure.
    pub measurement: Measurement,
    /// What a good drive shows.
    pub expected: Observed,
    /// Half width of the band about it; none for words.
    pub tolerance: Option<f64>,
    /// The user's reading.
    pub reading: Option<Observed>,
    /// What it comes to: pass, marginal, fail, or not checked while there is no reading.
    pub verdict: Verdict,
}

/// Expected readings of a drive with bands, to be filled in after a refit.
#[derive(Debug, Clone, PartialEq)]
pub struct CommissioningSheet {
    /// Name of the drive.
    pub drive: String,
    /// Its lines, before and under load.
    pub lines: Vec<SheetLine>,
    document: Document,
}

/// Bands are this many times the readings' tolerance of two deviations: a good drive must not fail on one of forty lines.
const WIDER: f64 = 1.75;
/// Share of the band beyond which a reading is marginal.
const MARGINAL: f64 = 0.8;

/// The commissioning sheet of a drive: wiring map, truth table of swaps, and the readings of common practice with bands from
/// parameter spread and meter accuracy.
///
/// # Errors
/// A description that cannot be a drive; no operating point.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::report::Verdict;
/// use stallpoint::studies::commissioning::commissioning_sheet;
/// use stallpoint::studies::faultfinding::Observed;
///
/// let mut sheet = commissioning_sheet(&Drive::from_toml_str(BOAT_LIFT)?)?;
/// assert_eq!(sheet.lines[0].verdict, Verdict::NotChecked);
/// let expected = sheet.lines[0].expected.clone();
/// sheet.fill(0, expected)?;
/// assert_eq!(sheet.lines[0].verdict, Verdict::Pass);
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn commissioning_sheet(drive: &Drive) -> Result<CommissioningSheet, Error> {
    let mut document = Document::default();
    document.heading(1, format!("Commissioning: {}", drive.name));
    document.heading(2, "Make safe");
    document.list(cautions(drive));
    document.heading(2, "Wiring map");
    let mut map = Table::new(3, ["wire", "from", "to"]);
    for wire in wiring_map(drive) {
        map.row([wire.wire, wire.from, wire.to]);
    }
    document.table(map);
    document.heading(2, "What swapped wires do");
    document.table(table(&swap_table(drive)?));
    let catalogue = fault_catalogue(drive);
    let swaps =
        catalogue.iter().filter(|e| [("battery", "reversed"), ("supply_and_ground", "swapped")].contains(&e.names()));
    document.list(swaps.filter_map(|e| e.hazard.as_ref().map(|hazard| format!("Danger, {}: {hazard}.", e.words))));
    document.heading(2, "Readings");
    let lines = readings(drive)?.into_iter().filter(belongs).map(|row| SheetLine {
        tolerance: row.tolerance.map(|own| WIDER * own),
        measurement: row.measurement,
        expected: row.shows,
        reading: None,
        verdict: Verdict::NotChecked,
    });
    Ok(CommissioningSheet { drive: drive.name.clone(), lines: lines.collect(), document })
}

/// Whether a reading is a line of the sheet: what loads nothing and repeats another is left out.
fn belongs(row: &ReadingRow) -> bool {
    let m = &row.measurement;
    row.when == When::Steady
        && match m.tool {
            Tool::Voltmeter | Tool::WatchMotor | Tool::Listen => true,
            Tool::Clamp => m.plus == "breaker" || m.plus == "fuse",
            Tool::TestLamp => m.plus == "supply_stud" && m.held == Held::AtRest,
            Tool::LowImpedance => m.plus.starts_with("coil") && m.minus == "coil_return",
            Tool::Ohmmeter => m.plus.starts_with("coil") && m.minus == "coil_return",
            Tool::WatchBreaker => false,
        }
}

impl SheetLine {
    fn judge(&self, reading: &Observed) -> Verdict {
        match (reading, &self.expected, self.tolerance) {
            (Observed::Number(value), Observed::Number(expected), Some(tolerance)) => {
                match (value - expected).abs() / tolerance {
                    off if !(off <= 1.0) => Verdict::Fail,
                    off if off > MARGINAL => Verdict::Marginal,
                    _ => Verdict::Pass,
                }
            }
            (Observed::Word(word), Observed::Word(expected), _) if word == expected => Verdict::Pass,
            _ => Verdict::Fail,
        }
    }
}

impl CommissioningSheet {
    /// Fills in a reading.
    ///
    /// # Errors
    /// There is no such line.
    pub fn fill(&mut self, line: usize, reading: Observed) -> Result<Verdict, Error> {
        let count = self.lines.len();
        let Some(own) = self.lines.get_mut(line) else {
            let allowed = format!("below {count}, the number of lines");
            return Err(Error::option("line", &line.to_string(), &allowed));
        };
        own.verdict = own.judge(&reading);
        own.reading = Some(reading);
        Ok(own.verdict)
    }

    /// The sheet as a document, for text, Markdown or HTML.
    pub fn document(&self) -> Document {
        let mut document = self.document.clone();
        document.paragraph(
            "All numbers of a line are in its unit, without prefixes: fill in 0.0146 where the meter shows 14.6 mV.",
        );
        let mut table = Table::new(1, ["measure", "unit", "expected", "±", "reading", "verdict"]);
        for line in &self.lines {
            // In the unit in which a reading is filled in.
            table.row([
                line.measurement.to_string(),
                line.measurement.tool.unit().to_string(),
                line.expected.to_string(),
                line.tolerance.map_or(String::new(), number),
                line.reading.as_ref().map_or(String::new(), Observed::to_string),
                line.verdict.to_string(),
            ]);
        }
        document.table(table);
        document
    }
}
