//! An axis of a sweep: keys and their values.

use serde_json::Value;

use crate::error::Error;

/// One axis of a sweep: a key of the drive, or several that change together, with their values.
///
/// A key is what [`Drive::with_values`](crate::Drive::with_values) takes: the path in the drive's file
/// ("supply_cable.length"), a joint without its table ("ground_stud_joint.resistance"). A value is a number in the SI unit
/// of its kind or a text with a unit. Nothing is checked before the sweep.
///
/// # Example
/// ```
/// use stallpoint::studies::sweep::Axis;
///
/// let both_runs = Axis::together(["supply_cable.length", "ground_cable.length"], [4.0, 8.0, 16.0]).named("run");
/// let sizes = Axis::new("supply_cable.cross_section", ["16 mm2", "2 AWG"]);
/// assert_eq!((both_runs.len(), sizes.name()), (3, "supply_cable.cross_section".to_string()));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    name: Option<String>,
    columns: Vec<(String, Vec<Value>)>,
}

impl Axis {
    /// One key.
    pub fn new<V: Into<Value>>(key: impl Into<String>, values: impl IntoIterator<Item = V>) -> Self {
        Self::together([key.into()], values)
    }

    /// Several keys that all take the same values.
    pub fn together<K: Into<String>, V: Into<Value>>(
        keys: impl IntoIterator<Item = K>,
        values: impl IntoIterator<Item = V>,
    ) -> Self {
        let values: Vec<Value> = values.into_iter().map(Into::into).collect();
        Self { name: None, columns: keys.into_iter().map(|key| (key.into(), values.clone())).collect() }
    }

    /// Several keys, each with its own column of values, gone through side by side. All columns are equally long.
    ///
    /// # Example
    /// ```
    /// use serde_json::Value;
    /// use stallpoint::studies::sweep::Axis;
    ///
    /// let sizes = ["16 mm2", "25 mm2"].map(Value::from).to_vec();
    /// let ampacities = ["85 A", "110 A"].map(Value::from).to_vec();
    /// let cable = Axis::zipped([("supply_cable.cross_section", sizes), ("supply_cable.ampacity", ampacities)]);
    /// assert_eq!(cable.len(), 2);
    /// ```
    pub fn zipped<K: Into<String>>(columns: impl IntoIterator<Item = (K, Vec<Value>)>) -> Self {
        Self { name: None, columns: columns.into_iter().map(|(key, values)| (key.into(), values)).collect() }
    }

    /// The same axis under another name.
    #[must_use]
    pub fn named(mut self, name: impl Into<String>) -> Self {
        self.name = Some(name.into());
        self
    }

    /// Its name: the keys with commas between when none was given.
    pub fn name(&self) -> String {
        self.name.clone().unwrap_or_else(|| self.keys().collect::<Vec<_>>().join(", "))
    }

    /// Its keys.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.columns.iter().map(|(key, _)| key.as_str())
    }

    /// How many values it has.
    pub fn len(&self) -> usize {
        self.columns.first().map_or(0, |(_, values)| values.len())
    }

    /// Whether it has no value.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Keys and values at a place on the axis, which must be on it.
    pub(super) fn at(&self, place: usize) -> impl Iterator<Item = (&str, &Value)> + Clone {
        self.columns.iter().map(move |(key, values)| (key.as_str(), &values[place]))
    }

    /// Refuses an axis that cannot be gone through; `number` counts from 1, for the message.
    pub(super) fn check(&self, number: usize) -> Result<(), Error> {
        let refuse = |key: &str, problem: String| Err(Error::Value { key: key.into(), problem });
        let Some((first, _)) = self.columns.first() else {
            let axis = format!("axis {number}");
            return Err(Error::option(&axis, "without a key", "given at least one key of the drive"));
        };
        for (key, values) in &self.columns {
            if values.is_empty() {
                return refuse(key, "the axis has no values; give at least one".into());
            }
            if values.len() != self.len() {
                let (given, wanted) = (values.len(), self.len());
                return refuse(
                    key,
                    format!("{given} values against {wanted} of `{first}` on the same axis; give both as many"),
                );
            }
            // A NaN or an infinity becomes null, which an optional value would read as left out.
            if let Some(place) = values.iter().position(Value::is_null) {
                let problem = "is not a finite number and no text; give a number in SI or a text with a unit";
                return refuse(key, format!("value {} of the axis {problem}", place + 1));
            }
        }
        Ok(())
    }
}
