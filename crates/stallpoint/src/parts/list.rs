//! The list of parts by name: what Python and files make parts from.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::{CurrentSource, PARTS, VoltageSource, Waveform, load::LOADS, motor::MOTORS};
use crate::circuit::Part;
use crate::error::{Error, PartError};
use crate::quantity::{Current, Quantity, Voltage};

/// A kind of part: its name, how it is made, and an example of the least that it needs, as JSON.
pub(super) type Listed = (&'static str, fn(&str, Value) -> Result<Box<dyn Part>, Error>, &'static str);

fn listed() -> impl Iterator<Item = &'static Listed> {
    [PARTS, LOADS, MOTORS].into_iter().flatten()
}

/// Makes a part from its kind, the name of its Rust type, and its parameters: a table of numbers in SI and texts with
/// units, as in a file.
///
/// A source takes its constant (`voltage`, `current`), or `times` and `values`.
///
/// # Errors
/// [`Error::UnknownKind`] lists the kinds there are; [`Error::NewPart`] names the kind and the argument that does not
/// read, or that the part's own [`check`](Part::check) refuses.
///
/// # Example
/// ```
/// use serde_json::json;
/// use stallpoint::parts::part_from;
///
/// let joint = part_from("Resistor", json!({ "resistance": "30 mohm" }))?;
/// assert_eq!(joint.kind(), "resistor");
/// let error = part_from("Resistor", json!({ "resistance": "25 mV" })).unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     r#"Resistor: resistance: "25 mV" is a voltage; a resistance is expected, for example "25 mohm""#
/// );
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn part_from(kind: &str, parameters: Value) -> Result<Box<dyn Part>, Error> {
    let Some((name, make, _)) = listed().find(|(name, ..)| *name == kind) else {
        return Err(Error::UnknownKind { kind: kind.into(), known: part_kinds().collect::<Vec<_>>().join(", ") });
    };
    let part = make(name, parameters)?;
    part.check().map_err(|source| Error::NewPart { kind: kind.into(), source })?;
    Ok(part)
}

/// The kinds that [`part_from`] knows, in alphabetical order.
pub fn part_kinds() -> impl Iterator<Item = &'static str> {
    let mut names: Vec<&str> = listed().map(|(name, ..)| *name).collect();
    names.sort_unstable();
    names.into_iter()
}

/// An example of the least that a kind needs to be made, invented; none for a kind that [`part_from`] does not know.
///
/// # Example
/// ```
/// use stallpoint::parts::{part_example, part_from};
///
/// let least = part_example("Cable").unwrap();
/// assert_eq!(least.to_string(), r#"{"cross_section":"16 mm2","length":"7 m"}"#);
/// assert_eq!(part_from("Cable", least)?.kind(), "cable");
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn part_example(kind: &str) -> Option<Value> {
    let (.., example) = listed().find(|(name, ..)| *name == kind)?;
    serde_json::from_str(example).ok()
}

pub(super) fn read<P: Part + DeserializeOwned + 'static>(
    kind: &str,
    parameters: Value,
) -> Result<Box<dyn Part>, Error> {
    Ok(Box::new(parse::<P>(kind, parameters)?))
}

/// A source of voltage over time.
pub(super) fn voltage_source(kind: &str, parameters: Value) -> Result<Box<dyn Part>, Error> {
    Ok(Box::new(VoltageSource { voltage: waveform::<ConstantVoltage>(kind, parameters)? }))
}

/// A source of current over time.
pub(super) fn current_source(kind: &str, parameters: Value) -> Result<Box<dyn Part>, Error> {
    Ok(Box::new(CurrentSource { current: waveform::<ConstantCurrent>(kind, parameters)? }))
}

/// Reads a description, naming in the error the argument that does not read.
fn parse<T: DeserializeOwned>(kind: &str, parameters: Value) -> Result<T, Error> {
    serde_path_to_error::deserialize(parameters).map_err(|error| {
        let path = error.path().to_string();
        let problem = error.inner().to_string();
        let missing = problem.strip_prefix("missing field `").and_then(|rest| rest.strip_suffix('`'));
        let (argument, problem) = match (missing, path.as_str()) {
            (Some(field), ".") => (field.to_string(), "is missing".to_string()),
            (Some(field), path) => (format!("{path}.{field}"), "is missing".to_string()),
            (None, _) => (path, problem),
        };
        Error::NewPart { kind: kind.into(), source: PartError::Unreadable { argument, problem } }
    })
}

/// A table over time.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    times: Vec<f64>,
    values: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConstantVoltage {
    voltage: Voltage,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConstantCurrent {
    current: Current,
}

impl From<ConstantVoltage> for f64 {
    fn from(constant: ConstantVoltage) -> f64 {
        Quantity::si(constant.voltage)
    }
}

impl From<ConstantCurrent> for f64 {
    fn from(constant: ConstantCurrent) -> f64 {
        Quantity::si(constant.current)
    }
}

/// A source's values over time: a table when there are `times` or `values`, else a constant.
fn waveform<C: DeserializeOwned + Into<f64>>(kind: &str, parameters: Value) -> Result<Waveform, Error> {
    if parameters.get("times").is_some() || parameters.get("values").is_some() {
        let Table { times, values } = parse(kind, parameters)?;
        return Ok(Waveform::Table { times, values });
    }
    Ok(Waveform::Constant(parse::<C>(kind, parameters)?.into()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn problem(kind: &str, parameters: Value) -> String {
        part_from(kind, parameters).unwrap_err().to_string()
    }

    #[test]
    fn exact_kinds_are_listed_once_and_each_with_an_example_that_makes_it() {
        let kinds: Vec<_> = part_kinds().collect();
        assert!(kinds.windows(2).all(|pair| pair[0] < pair[1]), "{kinds:?}");
        for kind in kinds {
            part_from(kind, part_example(kind).unwrap()).unwrap();
        }
    }

    #[test]
    fn exact_errors_name_kind_and_argument() {
        assert_eq!(problem("Resistor", json!({})), "Resistor: resistance: is missing");
        assert_eq!(
            problem("Resistor", json!({ "resistance": -1.0 })),
            "Resistor: `resistance` is -1 ohm, but must be above 0 ohm"
        );
        assert_eq!(
            problem("Resistor", json!({ "resistance": true })),
            "Resistor: resistance: invalid type: boolean `true`, expected a resistance as a number in ohm or a text such \
             as \"25 mohm\""
        );
        let unknown = problem("Resistor", json!({ "resistance": 1, "colour": "red" }));
        assert_eq!(unknown, "Resistor: colour: unknown field `colour`, expected `resistance`");
        let source = problem("VoltageSource", json!({ "times": [0.0, "a"], "values": [1.0] }));
        assert!(source.starts_with("VoltageSource: times[1]: invalid type"), "{source}");
        let motor = problem("PermanentMagnetMotor", json!({ "resistance": "25 mohm", "inductance": "1 mV" }));
        assert!(motor.starts_with("PermanentMagnetMotor: inductance: \"1 mV\" is a voltage"), "{motor}");
    }

    #[test]
    fn exact_unknown_kinds_list_the_known_ones() {
        let text = problem("Resistance", json!({}));
        assert!(text.starts_with("there is no part of the kind \"Resistance\"; known are Battery, "), "{text}");
    }

    #[test]
    fn exact_sources_take_constants_and_tables() {
        assert!(part_from("VoltageSource", json!({ "voltage": "12.6 V" })).is_ok());
        assert!(part_from("CurrentSource", json!({ "times": [0.0, 1.0], "values": [0.0, 5.0] })).is_ok());
        assert!(problem("CurrentSource", json!({ "times": [0.0, 0.0], "values": [0.0, 5.0] })).contains("rising"));
    }
}
