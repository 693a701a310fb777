//! How much a measure changes with a parameter.

use serde_json::Value;

use super::parallel::{each, stopped};
use super::tolerance::si;
use crate::circuit::Watcher;
use crate::drive::{Drive, StartOptions};
use crate::error::Error;
use crate::studies::sizing::MonteCarloOptions;
use crate::studies::sweep::Measure;
use crate::studies::sweep::labels::number;
use crate::studies::sweep::paths::get;

/// How much one measure changes with one parameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// The parameter's key.
    pub parameter: String,
    /// The measure.
    pub measure: String,
    /// The parameter as it is, in SI.
    pub at: f64,
    /// The measure there.
    pub value: f64,
    /// Change of the measure by the change of the parameter, in their units; NaN where the measure has no value.
    pub derivative: f64,
    /// The same relative to both: per cent by per cent. NaN where the measure or the parameter is zero.
    pub elasticity: f64,
}

/// Relative step to each side; the runs are made to a tolerance far below it.
const STEP: f64 = 1e-2;
/// Absolute step for a parameter that is zero, in SI.
const FROM_ZERO: f64 = 1e-3;

/// Derivatives of measures of a start to parameters of the drive, by central differences of one per cent to each side.
///
/// ```text
/// dy/dp ≈ (y(p + h) - y(p - h)) / 2h,    h = 0.01 |p|
/// ```
///
/// Of the options `direction`, `hold`, `transient` and `threads` count.
///
/// Limits: a measure that jumps (a trip, a drop-out) has no derivative where it does; temperatures in °C step by one per cent
/// of that number.
///
/// # Errors
/// A description that cannot be a drive; a key that is not a number; a run that cannot be made; [`Error::Cancelled`].
///
/// # Example
/// ```
/// use stallpoint::circuit::Flow;
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::sizing::{MonteCarloOptions, sensitivities};
/// use stallpoint::studies::sweep::Measure;
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let options = MonteCarloOptions { hold: 0.2, ..MonteCarloOptions::default() };
/// let peak = Measure::list(["peak_current"])?;
/// let found = sensitivities(&drive, &["supply_cable.length"], &peak, &options, &mut |_| Flow::Continue)?;
/// assert!(found[0].derivative < 0.0); // a longer cable, a smaller surge
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn sensitivities<K: AsRef<str> + Sync>(
    drive: &Drive,
    parameters: &[K],
    measures: &[Measure],
    options: &MonteCarloOptions,
    watcher: Watcher,
) -> Result<Vec<Sensitivity>, Error> {
    drive.check()?;
    let described = drive.to_value()?;
    let mut at = Vec::new();
    for key in parameters.iter().map(AsRef::as_ref) {
        // One that the file leaves out stands at its part's default.
        let value = get(&described, key).and_then(number).map(|(number, _)| number);
        let missing =
            || Error::Value { key: key.into(), problem: "has no number in this drive; give it a value first".into() };
        let value = value.ok_or_else(missing)?;
        at.push(si(drive, key, &Value::from(value))?);
    }
    let start = StartOptions { hold: options.hold, transient: options.transient.clone() };
    let step = |value: f64| if value == 0.0 { FROM_ZERO } else { STEP * value.abs() };
    let runs = each(2 * at.len() + 1, options.threads, (0.0, 1.0), watcher, |case, stop| -> Result<Vec<f64>, Error> {
        let own = match case.checked_sub(1) {
            None => drive.clone(),
            Some(case) => {
                let (k, side) = (case / 2, if case % 2 == 0 { -1.0 } else { 1.0 });
                drive.with_values([(parameters[k].as_ref(), Value::from(at[k] + side * step(at[k])))])?
            }
        };
        let start = own.start_watched(options.direction, &start, &mut stopped(stop))?;
        Ok(measures.iter().map(|measure| measure.read(&start)).collect())
    })?;
    let runs = runs.into_iter().collect::<Result<Vec<_>, _>>()?;
    let mut found = Vec::new();
    for (k, key) in parameters.iter().enumerate() {
        for (m, measure) in measures.iter().enumerate() {
            let (value, h) = (runs[0][m], step(at[k]));
            let derivative = (runs[2 * k + 2][m] - runs[2 * k + 1][m]) / (2.0 * h);
            let elasticity = derivative * at[k] / value;
            found.push(Sensitivity {
                parameter: key.as_ref().into(),
                measure: measure.name().into(),
                at: at[k],
                value,
                derivative,
                elasticity: if at[k] == 0.0 || value == 0.0 { f64::NAN } else { elasticity },
            });
        }
    }
    Ok(found)
}
