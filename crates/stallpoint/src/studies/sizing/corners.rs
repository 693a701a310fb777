//! Corners of the tolerances.

use serde_json::Value;

use super::assess::judge;
use super::evidence::Evidence;
use super::options::SizingOptions;
use super::parallel::each;
use super::stream::Stream;
use super::tolerance::{Resolved, Tolerance};
use crate::circuit::Watcher;
use crate::drive::Drive;
use crate::error::Error;
use crate::report::Check;

/// A set of values at which a drive is judged.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Corner {
    /// What it is called; empty for the drive as described.
    pub name: String,
    /// Keys and values.
    pub values: Vec<(String, Value)>,
}

impl Corner {
    /// The drive as it is.
    pub fn as_described() -> Self {
        Self::default()
    }

    /// A named set of values.
    pub fn new<K: Into<String>, V: Into<Value>>(
        name: impl Into<String>,
        values: impl IntoIterator<Item = (K, V)>,
    ) -> Self {
        let values = values.into_iter().map(|(key, value)| (key.into(), value.into())).collect();
        Self { name: name.into(), values }
    }

    /// Every combination of the tolerances' ends, the first slowest: two to the power of their number.
    ///
    /// # Errors
    /// A key or value that does not read; more than 16 tolerances.
    pub fn all(drive: &Drive, tolerances: &[Tolerance]) -> Result<Vec<Self>, Error> {
        if tolerances.len() > 16 {
            let given = tolerances.len().to_string();
            return Err(Error::option("tolerances", &given, "at most 16 for all corners; use worst_corners"));
        }
        let resolved = tolerances.iter().map(|own| own.resolve(drive)).collect::<Result<Vec<_>, _>>()?;
        let corner = |number: usize| {
            let ups = (0..resolved.len()).rev().map(|bit| number >> bit & 1 == 1).collect::<Vec<_>>();
            Self::of(&resolved, &ups)
        };
        Ok((0..1usize << resolved.len()).map(corner).collect())
    }

    /// The corner at which each tolerance is at its upper or lower end.
    fn of(resolved: &[Resolved], ups: &[bool]) -> Self {
        let mut corner = Self::default();
        let mut names = Vec::new();
        for (tolerance, up) in resolved.iter().zip(ups) {
            let value = if *up { tolerance.high } else { tolerance.low };
            corner.values.extend(tolerance.at(value));
            names.push(format!("{} {}", tolerance.name, crate::report::number(value)));
        }
        corner.name = names.join(", ");
        corner
    }

    /// The drive in this corner.
    ///
    /// # Errors
    /// A key that does not exist, a value that does not read or does not fit.
    pub fn apply(&self, drive: &Drive) -> Result<Drive, Error> {
        if self.values.is_empty() {
            return Ok(drive.clone());
        }
        drive.with_values(self.values.iter().map(|(key, value)| (key.as_str(), value.clone())))
    }

    /// Marks a check as found here.
    pub(super) fn mark(&self, mut check: Check) -> Check {
        check.corner = Some(self.name.clone()).filter(|name| !name.is_empty());
        check
    }
}

/// The corners in which a drive's requirements are worst, and what sampling says of them.
#[derive(Debug, Clone, PartialEq)]
pub struct WorstCorners {
    /// The drive as described first, then each different corner.
    pub corners: Vec<Corner>,
    /// For each requirement that has a margin its key and its least margin in these corners.
    pub least_margins: Vec<(String, f64)>,
    /// How many samples were drawn between the ends.
    pub samples: usize,
    /// Samples with a smaller margin than every corner has: key, margin, the sample as a corner. Empty where the corners are
    /// the worst.
    pub beyond: Vec<(String, f64, Corner)>,
}

/// Least margin of each key.
fn margins(drive: &Drive, options: &SizingOptions) -> Result<Vec<(String, f64)>, Error> {
    let evidence = Evidence::gather(drive, options)?;
    let mut found: Vec<(String, f64)> = Vec::new();
    for check in judge(drive, &evidence, options) {
        let Some(margin) = check.margin else { continue };
        match found.iter_mut().find(|(key, _)| *key == check.key) {
            Some(known) => known.1 = known.1.min(margin),
            None => found.push((check.key.into_owned(), margin)),
        }
    }
    Ok(found)
}

fn least(margins: &[(String, f64)], key: &str) -> Option<f64> {
    margins.iter().find(|(known, _)| known == key).map(|(_, margin)| *margin)
}

/// Finds for each requirement the corner in which its margin is least: every tolerance is moved to each of its ends alone, and
/// the worse end of each is taken (for `n` tolerances 2n + 1 assessments, and one for each different corner). `samples` draws
/// between the ends then look for anything worse.
///
/// Limits: right where a margin goes one way with every tolerance whatever the others are; the samples tell where it does not,
/// and may miss it.
///
/// # Errors
/// A key or value that does not read; a drive that cannot be judged at an end; [`Error::Cancelled`] by the watcher.
pub fn worst_corners(
    drive: &Drive,
    tolerances: &[Tolerance],
    (samples, seed): (usize, u64),
    options: &SizingOptions,
    watcher: Watcher,
) -> Result<WorstCorners, Error> {
    let resolved = tolerances.iter().map(|own| own.resolve(drive)).collect::<Result<Vec<_>, _>>()?;
    let at = |values: Vec<(String, Value)>| margins(&Corner { name: String::new(), values }.apply(drive)?, options);
    let ends = each(2 * resolved.len() + 1, options.threads, (0.0, 0.3), watcher, |number, _| match number {
        0 => at(Vec::new()),
        number => {
            let tolerance = &resolved[(number - 1) / 2];
            at(tolerance.at(if number % 2 == 1 { tolerance.low } else { tolerance.high }).collect())
        }
    })?;
    let ends = ends.into_iter().collect::<Result<Vec<_>, _>>()?;
    let mut found: Vec<Vec<bool>> = Vec::new();
    for (key, _) in &ends[0] {
        let ups = (0..resolved.len()).map(|k| {
            let [low, high] = [1, 2].map(|end| least(&ends[2 * k + end], key).unwrap_or(f64::INFINITY));
            high < low
        });
        let ups: Vec<bool> = ups.collect();
        if !found.contains(&ups) {
            found.push(ups);
        }
    }
    let mut corners = vec![Corner::as_described()];
    corners.extend(found.iter().map(|ups| Corner::of(&resolved, ups)));
    let judged =
        each(corners.len(), options.threads, (0.3, 0.5), watcher, |number, _| at(corners[number].values.clone()))?;
    let judged = judged.into_iter().collect::<Result<Vec<_>, _>>()?;
    let mut least_margins: Vec<(String, f64)> = Vec::new();
    for (key, margin) in judged.iter().chain(&ends).flatten() {
        match least_margins.iter_mut().find(|(known, _)| known == key) {
            Some(known) => known.1 = known.1.min(*margin),
            None => least_margins.push((key.clone(), *margin)),
        }
    }
    let drawn = |number: usize| {
        let mut stream = Stream::new(seed, number as u64);
        let values = resolved.iter().flat_map(|own| own.at(own.draw(&mut stream)).collect::<Vec<_>>());
        Corner { name: format!("sample {number}"), values: values.collect() }
    };
    let sampled = each(samples, options.threads, (0.5, 1.0), watcher, |number, _| at(drawn(number).values))?;
    let mut beyond = Vec::new();
    for (number, margins) in sampled.into_iter().enumerate() {
        for (key, margin) in margins? {
            if least(&least_margins, &key).is_none_or(|least| margin < least - 1e-9) {
                beyond.push((key, margin, drawn(number)));
            }
        }
    }
    Ok(WorstCorners { corners, least_margins, samples, beyond })
}
