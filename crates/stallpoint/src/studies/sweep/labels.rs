//! Names, coordinates and units along the axes of a sweep.

use serde_json::Value;

use crate::quantity::{Area, ConductorSize};

/// Where along a key's axis the cases are.
#[derive(Debug, Clone, PartialEq)]
pub enum Coordinates {
    /// Numbers in one SI unit (temperatures in °C).
    Numbers(Vec<f64>),
    /// Texts, where not every value is a number of the same unit: names, gauges.
    Texts(Vec<String>),
}

impl Coordinates {
    /// How many there are.
    pub fn len(&self) -> usize {
        match self {
            Self::Numbers(numbers) => numbers.len(),
            Self::Texts(texts) => texts.len(),
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The coordinate at a place as a text; empty beyond the end.
    pub fn text(&self, place: usize) -> String {
        match self {
            Self::Numbers(numbers) => numbers.get(place).map(|&number| shortest(number)).unwrap_or_default(),
            Self::Texts(texts) => texts.get(place).cloned().unwrap_or_default(),
        }
    }
}

/// Coordinates of one key.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyLabels {
    /// The key.
    pub key: String,
    /// Its values.
    pub coordinates: Coordinates,
    /// Unit of the numbers; empty for texts and plain numbers.
    pub unit: String,
}

/// An axis of the result.
#[derive(Debug, Clone, PartialEq)]
pub struct AxisLabels {
    /// Its name.
    pub name: String,
    /// Its keys, at least one; the first one's coordinates stand for the axis.
    pub keys: Vec<KeyLabels>,
}

impl AxisLabels {
    /// Coordinates of the axis: those of its first key.
    pub fn coordinates(&self) -> &Coordinates {
        &self.keys[0].coordinates // an axis without a key is refused before the sweep
    }

    /// Unit of the coordinates.
    pub fn unit(&self) -> &str {
        &self.keys[0].unit // as above
    }

    /// How many places the axis has.
    pub fn len(&self) -> usize {
        self.coordinates().len()
    }

    /// Whether it has none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

impl KeyLabels {
    /// From a key's values as the drive's description writes them.
    pub(super) fn of(key: &str, written: &[Value]) -> Self {
        let numbers: Option<Vec<(f64, &str)>> = written.iter().map(number).collect();
        let one_unit = numbers.filter(|numbers| numbers.windows(2).all(|pair| pair[0].1 == pair[1].1));
        let (coordinates, unit) = match one_unit {
            Some(numbers) => {
                let unit = numbers.first().map_or("", |number| number.1);
                (Coordinates::Numbers(numbers.iter().map(|number| number.0).collect()), unit)
            }
            None => (Coordinates::Texts(written.iter().map(text).collect()), ""),
        };
        Self { key: key.into(), coordinates, unit: unit.into() }
    }
}

/// The number in SI and its unit, where a description's value is a number or "<number> <unit>".
pub(crate) fn number(written: &Value) -> Option<(f64, &str)> {
    let text = match written {
        Value::Number(number) => return Some((number.as_f64()?, "")),
        Value::String(text) => text,
        _ => return None,
    };
    let (number, unit) = text.split_once(' ')?;
    // The only kind that is not written in SI. Gauges stay texts: they choose other tables than their area would.
    match text.parse::<ConductorSize>() {
        Ok(ConductorSize::Awg { .. }) => None,
        Ok(ConductorSize::Metric { .. }) if unit == "mm2" => Some((text.parse::<Area>().ok()?.si(), Area::UNIT)),
        _ => Some((number.parse().ok()?, unit)),
    }
}

fn text(written: &Value) -> String {
    match written {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.as_f64().map_or_else(|| number.to_string(), shortest),
        other => other.to_string(),
    }
}

/// The shortest text that reads back to the same bits.
pub(crate) fn shortest(number: f64) -> String {
    let text = format!("{number:?}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
