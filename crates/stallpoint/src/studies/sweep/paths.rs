//! Places in a drive's description by dotted key, as `Drive::with_values` understands it.

use serde_json::Value;

use crate::drive::{make_room, may_be_absent};

/// The steps of a key; a joint is led to its table.
pub(crate) fn steps(key: &str) -> Vec<&str> {
    let mut steps: Vec<&str> = key.split('.').collect();
    if steps[0].ends_with("_joint") {
        steps.insert(0, "joints");
    }
    steps
}

/// Whether two keys name the same place or one lies within the other.
pub(crate) fn overlap(a: &str, b: &str) -> bool {
    steps(a).iter().zip(&steps(b)).all(|(a, b)| a == b)
}

/// Puts a value at a key; none when there is no such table. A joint or faults as good as new get their entry.
pub(crate) fn put(description: &mut Value, key: &str, value: &Value) -> Option<()> {
    let steps = steps(key);
    let (last, tables) = steps.split_last()?;
    if tables.is_empty() && value.is_object() {
        make_room(description, last);
    }
    let mut place = description;
    for (depth, step) in tables.iter().enumerate() {
        if may_be_absent(&tables[..=depth]) {
            place.as_object_mut()?.entry(*step).or_insert_with(|| Value::Object(Default::default()));
        }
        place = if place.is_array() { place.get_mut(step.parse::<usize>().ok()?)? } else { place.get_mut(step)? };
    }
    place.as_object_mut()?.insert((*last).into(), value.clone());
    Some(())
}

/// The value at a key.
pub(crate) fn get<'v>(description: &'v Value, key: &str) -> Option<&'v Value> {
    steps(key).iter().try_fold(description, |place, step| match place {
        Value::Array(entries) => entries.get(step.parse::<usize>().ok()?),
        table => table.get(step),
    })
}
