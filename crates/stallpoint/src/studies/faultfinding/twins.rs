//! Faults that no reading tells apart.

use rayon::prelude::*;

use super::column::Column;
use super::table::FaultTable;
use crate::error::Error;

/// Meter deviations within which two readings are alike: half of a pair that differs by so much is within either's accuracy.
const ALIKE: f64 = 2.0;

/// Groups of what may be the matter, by index: 0 for nothing wrong, then the table's entries. Each has the index of its
/// group's first member; most are alone.
#[derive(Debug, Clone, Default)]
pub(super) struct Twins {
    leader: Vec<usize>,
}

impl Twins {
    /// Finds what every measurement of the table shows alike, case by case on the same drives, within the meter's accuracy.
    pub(super) fn of(table: &FaultTable) -> Result<Self, Error> {
        let columns: Vec<Column> =
            table.candidates.par_iter().map(|m| Column::of(table, m)).collect::<Result<_, _>>()?;
        let kinds = table.entries.len() + 1;
        let cases: Vec<Vec<std::ops::Range<usize>>> = (0..kinds)
            .map(|kind| {
                let own = table.hypotheses.iter().filter(|h| h.entry.map_or(0, |entry| entry + 1) == kind);
                own.map(|h| h.cases.clone()).collect()
            })
            .collect();
        let mut leader: Vec<usize> = (0..kinds).collect();
        for kind in 1..kinds {
            let twin = |&other: &usize| leader[other] == other && alike(&columns, &cases[other], &cases[kind]);
            if let Some(first) = (0..kind).find(twin) {
                leader[kind] = first;
            }
        }
        Ok(Self { leader })
    }

    /// The members of the group to which something belongs, itself among them.
    pub(super) fn members(&self, kind: usize) -> impl Iterator<Item = usize> {
        let leader = self.leader[kind];
        (0..self.leader.len()).filter(move |&other| self.leader[other] == leader)
    }

    /// The first of the group to which something belongs.
    pub(super) fn leader(&self, kind: usize) -> usize {
        self.leader[kind]
    }
}

/// Whether all columns agree on two faults, severity by severity; faults with another number of severities are not compared
/// but for the first, as one that changes nothing.
fn alike(columns: &[Column], one: &[std::ops::Range<usize>], other: &[std::ops::Range<usize>]) -> bool {
    let pairs: Vec<(usize, usize)> = match (one, other) {
        ([sound], faulty) | (faulty, [sound]) if faulty.len() > 1 => {
            faulty.iter().flat_map(|own| sound.clone().zip(own.clone())).collect()
        }
        _ => one.iter().zip(other).flat_map(|(a, b)| a.clone().zip(b.clone())).collect(),
    };
    columns.iter().all(|column| {
        pairs.iter().all(|&(a, b)| {
            let (a, b) = (column.shown[a], column.shown[b]);
            if a.is_nan() || b.is_nan() {
                return a.is_nan() == b.is_nan();
            }
            let meter = column.tool.deviation(a).max(column.tool.deviation(b));
            (a - b).abs() <= ALIKE * meter.max(1e-9)
        })
    })
}
