//! The result of a sweep.

use super::labels::AxisLabels;
use super::measure::MeasureKind;
use crate::circuit::Ending;
use crate::error::Error;

/// One measure over all cases.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// The measure's name.
    pub name: String,
    /// Its unit; empty without one.
    pub unit: String,
    /// What its numbers mean.
    pub kind: MeasureKind,
    /// One number for each case; NaN where the case failed or has none.
    pub values: Vec<f64>,
}

/// The result of a sweep: one row for every case of the grid, in the grid's order, the first axis slowest.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepTable {
    /// The axes.
    pub axes: Vec<AxisLabels>,
    /// The measures.
    pub columns: Vec<Column>,
    /// For each case why it has no figures; none when it has. A case that the watcher kept from being made, or from
    /// being finished, says "cancelled".
    pub failures: Vec<Option<String>>,
    /// Finished, or cancelled by the watcher with cases left.
    pub ending: Ending,
}

impl SweepTable {
    /// Length of each axis.
    pub fn shape(&self) -> Vec<usize> {
        self.axes.iter().map(AxisLabels::len).collect()
    }

    /// How many cases there are: the product of the shape.
    pub fn len(&self) -> usize {
        self.failures.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.failures.is_empty()
    }

    /// The row of a case by its place on each axis; none when there is no such case.
    pub fn row(&self, places: &[usize]) -> Option<usize> {
        let shape = self.shape();
        let within = places.len() == shape.len() && places.iter().zip(&shape).all(|(place, length)| place < length);
        within.then(|| places.iter().zip(&shape).fold(0, |row, (place, length)| row * length + place))
    }

    /// The place on each axis of a row's case.
    pub fn places(&self, row: usize) -> Vec<usize> {
        let mut rest = row;
        let mut places: Vec<usize> = Vec::with_capacity(self.axes.len());
        for length in self.shape().into_iter().rev() {
            places.push(rest % length);
            rest /= length;
        }
        places.reverse();
        places
    }

    /// A measure by its name.
    ///
    /// # Errors
    /// It was not measured; the message lists what was.
    pub fn column(&self, measure: &str) -> Result<&Column, Error> {
        self.columns.iter().find(|column| column.name == measure).ok_or_else(|| {
            let known: Vec<&str> = self.columns.iter().map(|column| column.name.as_str()).collect();
            let allowed = format!("one that was swept: {}", known.join(", "));
            Error::option("measure", &format!("\"{measure}\""), &allowed)
        })
    }

    /// The numbers of a measure by its name.
    ///
    /// # Errors
    /// As for [`column`](SweepTable::column).
    pub fn values(&self, measure: &str) -> Result<&[f64], Error> {
        Ok(&self.column(measure)?.values)
    }
}
