//! Drives in files, and changed values.

use serde_json::Value;

use super::description::{Drive, JOINTS, is_joint, may_be_absent};
use super::fault::Fault;
use super::protection::{in_place_of, make_room};
use crate::error::Error;

/// The demo drive: a lakeside boat lift. All data invented, plausible, no source.
pub const BOAT_LIFT: &str = include_str!("boat_lift.toml");

/// The demo drive at 48 V: the pump unit of a stage lift. All data invented, plausible, no source.
pub const STAGE_LIFT: &str = include_str!("stage_lift.toml");

/// The demo drive at 24 V with a series motor: the sliding gate under a feed mill's bin. All data invented, plausible, no
/// source.
pub const CONVEYOR_GATE: &str = include_str!("conveyor_gate.toml");

impl Drive {
    /// Reads a drive from the text of a TOML file.
    ///
    /// # Errors
    /// [`Error::DriveFile`] with line and column: not TOML, an unknown key, a value that does not read; otherwise as
    /// [`check`](Drive::check).
    pub fn from_toml_str(text: &str) -> Result<Self, Error> {
        let drive: Self = toml::from_str(text).map_err(|error| at_line(text, &error))?;
        drive.check()?;
        Ok(drive)
    }

    /// Reads a drive from a TOML file.
    ///
    /// # Errors
    /// The file cannot be read; [`Error::InFile`] with its path and what [`from_toml_str`](Drive::from_toml_str) says.
    pub fn from_toml_file(path: impl AsRef<std::path::Path>) -> Result<Self, Error> {
        let path = path.as_ref();
        let text = std::fs::read_to_string(path).map_err(|error| Error::File {
            path: path.display().to_string(),
            problem: error.to_string(),
            advice: "check the path and that you may read it",
        })?;
        Self::from_toml_str(&text)
            .map_err(|source| Error::InFile { path: path.display().to_string(), source: Box::new(source) })
    }

    /// Writes the drive as TOML that [`from_toml_str`](Drive::from_toml_str) reads back without loss.
    ///
    /// # Errors
    /// A drive that holds what TOML cannot.
    pub fn to_toml(&self) -> Result<String, Error> {
        toml::to_string(self).map_err(|error| Error::option("drive", "not writable", &error.to_string()))
    }

    /// The JSON Schema of drive files, for editors.
    pub fn json_schema() -> String {
        format!("{:#}", schemars::schema_for!(Drive).to_value())
    }

    /// A drive from a JSON value of the same shape as the TOML file.
    ///
    /// # Errors
    /// As [`from_toml_str`](Drive::from_toml_str), without line and column.
    pub fn from_value(value: Value) -> Result<Self, Error> {
        let drive: Self = serde_json::from_value(value)
            .map_err(|error| Error::Description { what: "drive".into(), problem: error.to_string() })?;
        drive.check()?;
        Ok(drive)
    }

    /// The drive as a JSON value.
    ///
    /// # Errors
    /// A drive that holds what JSON cannot.
    pub fn to_value(&self) -> Result<Value, Error> {
        serde_json::to_value(self)
            .map_err(|error| Error::Description { what: "drive".into(), problem: error.to_string() })
    }

    /// A copy with other values. A key is the path in the drive's file ("supply_cable.length"); a joint may be named
    /// without its table ("ground_stud_joint.resistance"). A value is a number in SI or a text with a unit. A whole table for
    /// "fuse" takes the breaker's place, and the other way round.
    ///
    /// # Errors
    /// A key that does not exist, a value that does not read or does not fit; each names the key.
    ///
    /// # Example
    /// ```
    /// use stallpoint::drive::{BOAT_LIFT, Drive};
    ///
    /// let drive = Drive::from_toml_str(BOAT_LIFT)?;
    /// let longer = drive.with_values([("supply_cable.length", "14 m")])?;
    /// assert_eq!(longer.supply_cable.length.si(), 14.0);
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn with_values<K: AsRef<str>, V: Into<Value>>(
        &self,
        values: impl IntoIterator<Item = (K, V)>,
    ) -> Result<Self, Error> {
        let mut description = self.to_value()?;
        for (key, value) in values {
            let key = key.as_ref();
            set(&mut description, key, value.into())?;
            // Read after each, so that an error names the key that it is about.
            serde_json::from_value::<Self>(description.clone())
                .map_err(|error| Error::Value { key: key.into(), problem: error.to_string() })?;
        }
        Self::from_value(description)
    }

    /// A copy with a fault in it.
    ///
    /// # Errors
    /// The drive has no such part, or the fault's values do not fit it.
    pub fn with_fault(&self, fault: &Fault) -> Result<Self, Error> {
        fault.apply(self)
    }
}

/// Puts a value at a dotted path. Every table on the way must exist, but for joints as good as new and optional values.
pub(crate) fn set(description: &mut Value, key: &str, value: Value) -> Result<(), Error> {
    let unknown = |problem: String| Error::Value { key: key.into(), problem };
    if value.is_null() {
        return Err(unknown("no value; NaN and infinite numbers are none either, give a finite number".into()));
    }
    let mut steps: Vec<&str> = key.split('.').collect();
    if steps[0].ends_with("_joint") {
        steps.insert(0, "joints");
    }
    if let ["joints", joint, ..] = steps[..]
        && !is_joint(joint)
    {
        return Err(unknown(format!("there is no joint \"{joint}\"; known are {}", JOINTS.join(", "))));
    }
    let last = steps.pop().unwrap_or_default();
    if steps.is_empty() && value.is_object() {
        make_room(description, last);
    }
    let mut place = description;
    for (depth, &step) in steps.iter().enumerate() {
        // A joint or faults as good as new are not in the table yet.
        if let Some(table) = place.as_object_mut().filter(|_| may_be_absent(&steps[..=depth])) {
            table.entry(step).or_insert_with(|| Value::Object(Default::default()));
        }
        let missing = match place.as_array().map(Vec::len) {
            Some(entries) => format!("there is no entry \"{step}\" in the list; it has {entries}, numbered from 0"),
            None => match in_place_of(step).filter(|other| depth == 0 && place.get(other).is_some()) {
                Some(other) => {
                    format!("the drive has a {other}, no {step}; give \"{step}\" a whole table to put one in its place")
                }
                None => format!("the drive has no table \"{step}\""),
            },
        };
        place = match step.parse::<usize>() {
            Ok(index) if place.is_array() => place.get_mut(index),
            _ => place.get_mut(step),
        }
        .filter(|next| next.is_object() || next.is_array())
        .ok_or_else(|| unknown(missing))?;
    }
    let Some(table) = place.as_object_mut() else {
        return Err(unknown(format!("\"{last}\" is not in a table; number the entries of a list: \"load.0.running\"")));
    };
    table.insert(last.into(), value);
    Ok(())
}

/// The value at a dotted path, if it is there.
pub(crate) fn at<'v>(description: &'v Value, key: &str) -> Option<&'v Value> {
    let steps = key.split('.');
    let table = if key.split('.').next()?.ends_with("_joint") { description.get("joints")? } else { description };
    steps.into_iter().try_fold(table, |place, step| match step.parse::<usize>() {
        Ok(index) if place.is_array() => place.get(index),
        _ => place.get(step),
    })
}

/// An error of the TOML reader with the line and column that it means.
fn at_line(text: &str, error: &toml::de::Error) -> Error {
    let problem = error.message().trim().to_string();
    let start = error.span().map_or(0, |span| span.start);
    let offset = sharpen(text, start, &problem).unwrap_or(start);
    let before = &text[..offset.min(text.len())];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().map_or(0, |last| last.chars().count()) + 1;
    Error::DriveFile { line, column, problem }
}

/// The reader knows only the table of some errors; the key it complains about is on a later line of that table.
fn sharpen(text: &str, start: usize, problem: &str) -> Option<usize> {
    let key = problem.strip_prefix("unknown field `")?.split('`').next()?;
    let mut offset = start;
    for line in text.get(start..)?.split_inclusive('\n') {
        let indent = line.len() - line.trim_start().len();
        let rest = line.trim_start().strip_prefix(key);
        if rest.is_some_and(|rest| rest.trim_start().starts_with(['=', '.'])) {
            return Some(offset + indent);
        }
        offset += line.len();
    }
    None
}
