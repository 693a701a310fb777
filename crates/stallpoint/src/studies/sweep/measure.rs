//! What a sweep measures at each start.

use std::sync::Arc;

use crate::drive::{Start, Surge};
use crate::error::Error;

/// What the numbers of a measure mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasureKind {
    /// A number in the measure's unit; NaN when there is none.
    Number,
    /// 1 for yes, 0 for no.
    Flag,
    /// A position in this list of words, from 0.
    Word(&'static [&'static str]),
}

impl MeasureKind {
    /// A value as a text; empty for NaN.
    pub fn text(&self, value: f64) -> String {
        if value.is_nan() {
            return String::new();
        }
        match self {
            Self::Number => super::labels::shortest(value),
            Self::Flag => (value != 0.0).to_string(),
            // A cast of a float saturates, so a value that is no position finds no word.
            Self::Word(words) => words.get(value as usize).map(|word| (*word).to_string()).unwrap_or_default(),
        }
    }
}

/// A figure taken from each start of a sweep.
///
/// By name the fields of [`Surge`]: `peak_current`, `time_of_peak`, `peak_motor_current`, `time_to_speed` (NaN when it is
/// not reached), `surge_i2t`, `lowest_stud_voltage`, `lowest_coil_voltage`, `stalled` (a flag), `trips` (a word: no, may,
/// will), `tripped_at` (NaN when it does not), `dropouts`. Or the user's own.
///
/// # Example
/// ```
/// use stallpoint::studies::sweep::Measure;
///
/// let peak = Measure::named("peak_current")?;
/// assert_eq!(peak.unit(), "A");
/// let steps = Measure::own("steps", "", |start| start.counters.steps as f64);
/// assert_eq!(steps.name(), "steps");
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Clone)]
pub struct Measure {
    name: String,
    unit: String,
    kind: MeasureKind,
    read: Arc<dyn Fn(&Start) -> f64 + Send + Sync>,
}

/// Name, unit, kind and reading of a field of [`Surge`].
type Field = (&'static str, &'static str, MeasureKind, fn(&Surge) -> f64);

/// As `Trips` counts and writes them.
const TRIPS: MeasureKind = MeasureKind::Word(&["no", "may", "will"]);

const FIELDS: [Field; 11] = [
    ("peak_current", "A", MeasureKind::Number, |surge| surge.peak_current),
    ("time_of_peak", "s", MeasureKind::Number, |surge| surge.time_of_peak),
    ("peak_motor_current", "A", MeasureKind::Number, |surge| surge.peak_motor_current),
    ("time_to_speed", "s", MeasureKind::Number, |surge| surge.time_to_speed.unwrap_or(f64::NAN)),
    ("surge_i2t", "A2 s", MeasureKind::Number, |surge| surge.surge_i2t),
    ("lowest_stud_voltage", "V", MeasureKind::Number, |surge| surge.lowest_stud_voltage),
    ("lowest_coil_voltage", "V", MeasureKind::Number, |surge| surge.lowest_coil_voltage),
    ("stalled", "", MeasureKind::Flag, |surge| f64::from(u8::from(surge.stalled))),
    ("trips", "", TRIPS, |surge| f64::from(surge.trips as u8)),
    ("tripped_at", "s", MeasureKind::Number, |surge| surge.tripped_at.unwrap_or(f64::NAN)),
    ("dropouts", "", MeasureKind::Number, |surge| surge.dropouts as f64),
];

impl Measure {
    /// A field of the surge by its name.
    ///
    /// # Errors
    /// No such measure; the message lists the known.
    pub fn named(name: &str) -> Result<Self, Error> {
        let Some(&(name, unit, kind, read)) = FIELDS.iter().find(|field| field.0 == name) else {
            let allowed = format!("one of {}", Self::known().collect::<Vec<_>>().join(", "));
            return Err(Error::option("measure", &format!("\"{name}\""), &allowed));
        };
        Ok(Self { name: name.into(), unit: unit.into(), kind, read: Arc::new(move |start| read(&start.surge)) })
    }

    /// Several fields of the surge by their names.
    ///
    /// # Errors
    /// As for [`named`](Measure::named).
    pub fn list<N: AsRef<str>>(names: impl IntoIterator<Item = N>) -> Result<Vec<Self>, Error> {
        names.into_iter().map(|name| Self::named(name.as_ref())).collect()
    }

    /// The user's own number, taken from each start. It is called from several threads at once.
    pub fn own(
        name: impl Into<String>,
        unit: impl Into<String>,
        read: impl Fn(&Start) -> f64 + Send + Sync + 'static,
    ) -> Self {
        Self { name: name.into(), unit: unit.into(), kind: MeasureKind::Number, read: Arc::new(read) }
    }

    /// Names that [`named`](Measure::named) knows.
    pub fn known() -> impl Iterator<Item = &'static str> {
        FIELDS.iter().map(|field| field.0)
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its unit; empty without one.
    pub fn unit(&self) -> &str {
        &self.unit
    }

    /// What its numbers mean.
    pub fn kind(&self) -> MeasureKind {
        self.kind
    }

    pub(crate) fn read(&self, start: &Start) -> f64 {
        (self.read)(start)
    }
}

impl std::fmt::Debug for Measure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Measure")
            .field("name", &self.name)
            .field("unit", &self.unit)
            .field("kind", &self.kind)
            .finish_non_exhaustive()
    }
}
