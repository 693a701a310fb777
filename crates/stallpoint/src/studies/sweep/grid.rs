//! The grid of cases: axes read and checked, and the drive of each case.

use serde_json::Value;

use super::axis::Axis;
use super::labels::{AxisLabels, KeyLabels};
use super::paths::{get, overlap, put};
use crate::drive::Drive;
use crate::error::Error;

/// Every combination of the axes' values, the first axis slowest.
pub(super) struct Grid<'a> {
    axes: &'a [Axis],
    /// The drive's description, into which each case puts its values.
    description: Value,
    cases: usize,
}

impl<'a> Grid<'a> {
    /// Checks the axes and reads every value of each on its own.
    pub fn read(drive: &Drive, axes: &'a [Axis]) -> Result<(Self, Vec<AxisLabels>), Error> {
        check(axes)?;
        let lengths: Vec<usize> = axes.iter().map(Axis::len).collect();
        let cases = lengths.iter().try_fold(1usize, |product, &length| product.checked_mul(length));
        let too_many = || Error::option("axes", &format!("a grid of {lengths:?} values"), "few enough to count");
        let grid = Self { axes, description: drive.to_value()?, cases: cases.ok_or_else(too_many)? };
        let labels = axes.iter().map(|axis| grid.labels(drive, axis)).collect::<Result<_, _>>()?;
        Ok((grid, labels))
    }

    pub fn len(&self) -> usize {
        self.cases
    }

    /// The drive of a case.
    pub fn drive(&self, case: usize) -> Result<Drive, Error> {
        let mut description = self.description.clone();
        let mut rest = case;
        for axis in self.axes.iter().rev() {
            place(&mut description, axis, rest % axis.len())?;
            rest /= axis.len();
        }
        Drive::from_value(description)
    }

    /// Reads an axis as the drive writes its values.
    fn labels(&self, drive: &Drive, axis: &Axis) -> Result<AxisLabels, Error> {
        let mut written: Vec<Vec<Value>> = vec![Vec::new(); axis.keys().count()];
        for at in 0..axis.len() {
            let mut description = self.description.clone();
            let read = place(&mut description, axis, at)
                .and_then(|()| serde_json::from_value::<Drive>(description).map_err(|e| does_not_read(axis, &e)))
                .map_err(|error| first_unreadable(drive, axis, at).unwrap_or(error))?
                .to_value()?;
            for (column, (key, given)) in written.iter_mut().zip(axis.at(at)) {
                column.push(get(&read, key).unwrap_or(given).clone());
            }
        }
        let keys = axis.keys().zip(&written).map(|(key, written)| KeyLabels::of(key, written)).collect();
        Ok(AxisLabels { name: axis.name(), keys })
    }
}

fn check(axes: &[Axis]) -> Result<(), Error> {
    if axes.is_empty() {
        return Err(Error::option("axes", "empty", "at least one axis"));
    }
    for (index, axis) in axes.iter().enumerate() {
        axis.check(index + 1)?;
        if axes[..index].iter().any(|other| other.name() == axis.name()) {
            let name = format!("\"{}\" twice", axis.name());
            return Err(Error::option("axis name", &name, "different for each axis; name one otherwise"));
        }
    }
    let keys: Vec<&str> = axes.iter().flat_map(Axis::keys).collect();
    for (index, key) in keys.iter().enumerate() {
        if let Some(other) = keys[..index].iter().find(|other| overlap(other, key)) {
            let problem = format!("`{other}` sweeps the same value; leave one of them out");
            return Err(Error::Value { key: (*key).into(), problem });
        }
    }
    Ok(())
}

/// Puts an axis' values at one of its places into a description.
fn place(description: &mut Value, axis: &Axis, at: usize) -> Result<(), Error> {
    axis.at(at).try_for_each(|(key, value)| {
        let unknown = || Error::Value { key: key.into(), problem: "the drive has no such table".into() };
        put(description, key, value).ok_or_else(unknown)
    })
}

fn does_not_read(axis: &Axis, error: &serde_json::Error) -> Error {
    Error::Value { key: axis.keys().collect::<Vec<_>>().join(", "), problem: error.to_string() }
}

/// The error of the first key of an axis that does not read on its own, in the words of [`Drive::with_values`].
fn first_unreadable(drive: &Drive, axis: &Axis, at: usize) -> Option<Error> {
    axis.at(at).find_map(|(key, value)| match drive.with_values([(key, value.clone())]) {
        Err(error @ Error::Value { .. }) => Some(error),
        _ => None,
    })
}
