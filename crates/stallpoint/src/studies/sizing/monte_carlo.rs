//! Monte Carlo: a drive started many times, its tolerances drawn anew each time.

use super::corners::Corner;
use super::parallel::{each, stopped};
use super::stream::Stream;
use super::tolerance::{Resolved, Tolerance};
use crate::circuit::{Ending, TransientOptions, Watcher};
use crate::drive::{Direction, Drive, StartOptions};
use crate::error::Error;
use crate::studies::sweep::Measure;

/// Settings of a Monte Carlo study.
#[derive(Debug, Clone)]
pub struct MonteCarloOptions {
    /// How many cases.
    pub samples: usize,
    /// Seed of the streams.
    pub seed: u64,
    /// Direction of the starts.
    pub direction: Direction,
    /// How long the control is held at each, s.
    pub hold: f64,
    /// Settings of the transients; no energy account by default.
    pub transient: TransientOptions,
    /// How many threads work at once; as many as the machine has when left out. The result does not depend on it.
    pub threads: Option<usize>,
}

impl Default for MonteCarloOptions {
    fn default() -> Self {
        Self {
            samples: 1000,
            seed: 0,
            direction: Direction::Forward,
            hold: 3.0,
            transient: TransientOptions { energy: false, ..TransientOptions::default() },
            threads: None,
        }
    }
}

/// The result: one row for every case, always.
#[derive(Debug, Clone, PartialEq)]
pub struct MonteCarlo {
    /// Names of the tolerances.
    pub parameters: Vec<String>,
    /// For each tolerance what was drawn, in SI, one number a case.
    pub draws: Vec<Vec<f64>>,
    /// Names and units of the measures.
    pub measures: Vec<(String, String)>,
    /// For each measure one number a case; NaN where the case failed or has none.
    pub values: Vec<Vec<f64>>,
    /// For each case why it failed; none when it did not.
    pub failures: Vec<Option<String>>,
}

impl MonteCarlo {
    /// The numbers of a measure.
    ///
    /// # Errors
    /// It was not measured.
    pub fn values(&self, measure: &str) -> Result<&[f64], Error> {
        let place = self.measures.iter().position(|(name, _)| name == measure);
        place.map(|place| &*self.values[place]).ok_or_else(|| {
            let known: Vec<&str> = self.measures.iter().map(|(name, _)| name.as_str()).collect();
            Error::option("measure", &format!("\"{measure}\""), &format!("one of {}", known.join(", ")))
        })
    }

    /// A quantile of a measure over the cases that have it, by straight lines between the ordered values; NaN without any.
    ///
    /// # Errors
    /// As for [`values`](MonteCarlo::values); a share outside 0 to 1.
    pub fn quantile(&self, measure: &str, share: f64) -> Result<f64, Error> {
        if !(0.0..=1.0).contains(&share) {
            return Err(Error::option("share", &share.to_string(), "between 0 and 1"));
        }
        let mut values: Vec<f64> = self.values(measure)?.iter().copied().filter(|value| !value.is_nan()).collect();
        values.sort_by(f64::total_cmp);
        let place = share * values.len().saturating_sub(1) as f64;
        let (below, above) = (place.floor() as usize, place.ceil() as usize);
        match (values.get(below), values.get(above)) {
            (Some(low), Some(high)) => Ok(low + (high - low) * (place - below as f64)),
            _ => Ok(f64::NAN),
        }
    }
}

/// Starts a drive many times with its tolerances drawn: each case from the stream of the seed and its own number.
///
/// # Errors
/// A description that cannot be a drive; no samples, tolerances or measures; a key or value that does not read;
/// [`Error::Cancelled`] when the watcher stops it.
///
/// # Example
/// ```
/// use stallpoint::circuit::Flow;
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sizing::{MonteCarloOptions, Tolerance, monte_carlo};
/// use stallpoint::studies::sweep::Measure;
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let charge = Tolerance::interval("battery.state_of_charge", "50 %", "100 %");
/// let options = MonteCarloOptions { samples: 8, hold: 0.2, ..MonteCarloOptions::default() };
/// let found = monte_carlo(&drive, &[charge], &Measure::list(["peak_current"])?, &options, &mut |_| Flow::Continue)?;
/// assert!(found.quantile("peak_current", 1.0)? < 175.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn monte_carlo(
    drive: &Drive,
    tolerances: &[Tolerance],
    measures: &[Measure],
    options: &MonteCarloOptions,
    watcher: Watcher,
) -> Result<MonteCarlo, Error> {
    drive.check()?;
    let needed = [("samples", options.samples), ("tolerances", tolerances.len()), ("measures", measures.len())];
    if let Some((what, _)) = needed.iter().find(|(_, count)| *count == 0) {
        return Err(Error::option(what, "none", "at least one"));
    }
    crate::parts::above_zero("hold", crate::quantity::Time::from_si(options.hold))?;
    let resolved = tolerances.iter().map(|own| own.resolve(drive)).collect::<Result<Vec<_>, _>>()?;
    let start = StartOptions { hold: options.hold, transient: options.transient.clone() };
    let cases = each(options.samples, options.threads, (0.0, 1.0), watcher, |number, stop| {
        let draws = draws(&resolved, options.seed, number);
        let drawn = resolved.iter().zip(&draws).flat_map(|(own, value)| own.at(*value).collect::<Vec<_>>());
        let values: Vec<_> = drawn.collect();
        let case = || -> Result<Vec<f64>, Error> {
            let own = Corner { name: String::new(), values }.apply(drive)?;
            let start = own.start_watched(options.direction, &start, &mut stopped(stop))?;
            match start.run.ending {
                Ending::StepLimit => Err(Error::option("max_steps", "reached", "more, or a shorter hold")),
                _ => Ok(measures.iter().map(|measure| measure.read(&start)).collect()),
            }
        };
        let figures = case();
        (draws, figures)
    })?;
    let mut found = MonteCarlo {
        parameters: resolved.iter().map(|own| own.name.clone()).collect(),
        draws: vec![Vec::new(); resolved.len()],
        measures: measures.iter().map(|measure| (measure.name().into(), measure.unit().into())).collect(),
        values: vec![Vec::new(); measures.len()],
        failures: Vec::new(),
    };
    for (draws, case) in cases {
        found.draws.iter_mut().zip(draws).for_each(|(column, value)| column.push(value));
        let figures = case.as_ref().map_or_else(|_| vec![f64::NAN; measures.len()], Clone::clone);
        found.values.iter_mut().zip(figures).for_each(|(column, value)| column.push(value));
        found.failures.push(case.err().map(|error| error.to_string()));
    }
    Ok(found)
}

/// What a case draws.
fn draws(resolved: &[Resolved], seed: u64, number: usize) -> Vec<f64> {
    let mut stream = Stream::new(seed, number as u64);
    resolved.iter().map(|own| own.draw(&mut stream)).collect()
}
