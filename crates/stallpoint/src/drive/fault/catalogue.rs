//! The catalogue, read from its file and laid out for a drive.

use std::sync::OnceLock;

use serde::Deserialize;
use serde_json::{Map, Value};

use super::entry::{Amount, Entry, Scale};
use super::section::Section;
use crate::drive::description::{CoilReturn, Drive};
use crate::parts::Suppression;
use crate::parts::motor::{FieldPlace, Motor};

/// A row of the file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    part: String,
    mode: String,
    words: String,
    section: Option<Section>,
    unit: Option<String>,
    mild: Option<f64>,
    severe: Option<f64>,
    #[serde(default)]
    scale: Scale,
    typical: Option<f64>,
    weight: f64,
    needs: Option<String>,
    hazard: Option<String>,
    steady: Option<bool>,
    #[serde(default)]
    set: Map<String, Value>,
    #[serde(default)]
    times: Map<String, Value>,
}

#[derive(Debug, Deserialize)]
struct File {
    share: std::collections::BTreeMap<String, f64>,
    fault: Vec<Row>,
}

fn file() -> &'static File {
    static FILE: OnceLock<File> = OnceLock::new();
    // The file is part of the library; a test reads it.
    FILE.get_or_init(|| toml::from_str(include_str!("catalogue.toml")).expect("the catalogue is a valid file"))
}

/// The faults that a drive may have, section by section.
///
/// Its priors add to one. They, the ranges of severity and the weights are typical, no source, as the file
/// `drive/fault/catalogue.toml` says line by line; what each fault changes in the drive's description stands there too.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive, fault_catalogue};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let catalogue = fault_catalogue(&drive);
/// assert!(catalogue.iter().any(|entry| entry.name() == "ground_stud_joint corroded"));
/// for entry in &catalogue {
///     drive.with_fault(&entry.at(0.5))?;
/// }
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn fault_catalogue(drive: &Drive) -> Vec<Entry> {
    let mut entries: Vec<Entry> = file().fault.iter().flat_map(|row| expanded(row, drive)).collect();
    entries.sort_by_key(|entry| entry.section);
    let of = |section: Section| file().share.get(section.name()).copied().unwrap_or(0.0);
    let sums = Section::ALL
        .map(|section| entries.iter().filter(|entry| entry.section == section).map(|entry| entry.prior).sum::<f64>());
    let whole: f64 = Section::ALL.iter().zip(sums).filter(|(_, sum)| *sum > 0.0).map(|(section, _)| of(*section)).sum();
    for entry in &mut entries {
        entry.prior *= of(entry.section) / whole / sums[entry.section as usize];
    }
    entries
}

/// A row for each part of the drive that it is about.
fn expanded(row: &Row, drive: &Drive) -> Vec<Entry> {
    if !row.needs.as_deref().is_none_or(|needs| has(drive, needs)) {
        return Vec::new();
    }
    let text = format!("{}{}", row.part, row.mode);
    let pairs: Vec<Vec<(&str, String)>> = if text.contains("{joint}") {
        drive.joint_names().into_iter().filter(|name| *name != "case_joint").map(joint).collect()
    } else if text.contains("{conductor}") {
        conductors(drive).into_iter().map(conductor).collect()
    } else if text.contains("{a}") {
        vec![side("a", "A", "forward"), side("b", "B", "reverse")]
    } else {
        vec![Vec::new()]
    };
    let share = 1.0 / if text.contains("{a}") { 2.0 } else { 1.0 };
    pairs.into_iter().map(|pairs| entry(row, drive, &pairs, share)).collect()
}

fn joint(name: &str) -> Vec<(&'static str, String)> {
    let point = name.trim_end_matches("_joint").replace('_', " ");
    vec![("{joint}", name.into()), ("{point}", point)]
}

fn conductor(name: &str) -> Vec<(&'static str, String)> {
    vec![("{conductor}", name.into()), ("{conductor_words}", name.replace('_', " "))]
}

fn side(letter: &str, capital: &str, direction: &str) -> Vec<(&'static str, String)> {
    vec![("{a}", letter.into()), ("{A}", capital.into()), ("{direction}", direction.into())]
}

/// Conductors of the loop.
fn conductors(drive: &Drive) -> Vec<&'static str> {
    let mut names = vec!["supply_cable", "ground_cable", "motor_lead_a", "motor_lead_b"];
    if drive.battery_lead.is_some() {
        names.push("battery_lead");
    }
    if drive.isolator_lead.is_some() {
        names.push("isolator_lead");
    }
    if drive.motor.fields().iter().any(|place| matches!(place, FieldPlace::SupplyLead { .. })) {
        names.push("field_lead");
    }
    names
}

/// Whether the drive has what a row needs.
fn has(drive: &Drive, needs: &str) -> bool {
    match needs {
        "breaker" => drive.protection().fuse().is_none(),
        "fuse" => drive.protection().fuse().is_some(),
        "bonded_case" => drive.case.bonded,
        "permanent_magnets" => matches!(drive.motor, Motor::PermanentMagnet(_)),
        "strings" => drive.battery.strings_in_parallel > 1,
        "suppression" => drive.contactor.coil.suppression != Suppression::None,
        "diode" => !matches!(drive.contactor.coil.suppression, Suppression::None | Suppression::Resistor { .. }),
        _ => false,
    }
}

fn entry(row: &Row, drive: &Drive, pairs: &[(&str, String)], share: f64) -> Entry {
    let armature = if matches!(drive.motor, Motor::PermanentMagnet(_)) { "motor" } else { "motor.armature" };
    let chassis = match (drive.case.bonded, drive.control.coil_return) {
        (true, _) => "case",
        (false, CoilReturn::GroundStud) => "ground_stud",
        _ => "battery_negative",
    };
    let own = [
        ("{armature}", armature.to_string()),
        ("{chassis}", chassis.to_string()),
        ("{device}", drive.protection().name().to_string()),
    ];
    let fill = |text: &str| pairs.iter().chain(&own).fold(text.to_string(), |text, (from, to)| text.replace(from, to));
    let part = fill(&row.part);
    let amount = match (row.mild, row.severe) {
        (Some(mild), Some(severe)) => {
            let unit = row.unit.clone().unwrap_or_else(|| "1".into());
            let mut amount = Amount { unit, mild, severe, scale: row.scale, typical: 0.0 };
            amount.typical = row.typical.unwrap_or(amount.at(0.5));
            Some(amount)
        }
        _ => None,
    };
    let values = |table: &Map<String, Value>| {
        table.iter().map(|(key, value)| (fill(key), replaced(value, &fill))).collect::<Vec<_>>()
    };
    Entry {
        section: row.section.unwrap_or_else(|| Section::of(&part)),
        part,
        mode: fill(&row.mode),
        words: fill(&row.words),
        amount,
        prior: row.weight * share,
        steady: row.steady.unwrap_or(true),
        hazard: row.hazard.as_deref().map(fill),
        set: values(&row.set),
        times: values(&row.times),
    }
}

/// A value with its placeholders filled.
fn replaced(value: &Value, fill: &impl Fn(&str) -> String) -> Value {
    match value {
        Value::String(text) => Value::String(fill(text)),
        Value::Object(table) => table.iter().map(|(key, value)| (key.clone(), replaced(value, fill))).collect(),
        other => other.clone(),
    }
}
