//! Values over time for ideal sources.

use std::fmt;
use std::sync::Arc;

use crate::circuit::Memory;
use crate::error::PartError;

/// A value over time: constant, a table with straight lines between its rows, or a function.
#[derive(Clone)]
pub enum Waveform {
    /// The same at all times.
    Constant(f64),
    /// Times (rising) and values; constant before the first and after the last. Its corners are landed on exactly.
    Table {
        /// Times, s.
        times: Vec<f64>,
        /// Values.
        values: Vec<f64>,
    },
    /// A function of time, s. It should be smooth: corners belong into a table.
    Function(Arc<dyn Fn(f64) -> f64 + Send + Sync>),
}

impl fmt::Debug for Waveform {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Constant(value) => write!(f, "Constant({value})"),
            Self::Table { times, values } => write!(f, "Table({times:?}, {values:?})"),
            Self::Function(_) => write!(f, "Function"),
        }
    }
}

impl Waveform {
    /// Value at time `t`.
    pub fn value(&self, t: f64) -> f64 {
        match self {
            Self::Constant(value) => *value,
            Self::Table { times, values } => {
                let after = times.partition_point(|&time| time <= t);
                match (after.checked_sub(1), times.get(after)) {
                    (None, _) => values[0],
                    (Some(last), None) => values[last],
                    (Some(before), Some(next)) => {
                        let share = (t - times[before]) / (next - times[before]);
                        values[before] + share * (values[after] - values[before])
                    }
                }
            }
            Self::Function(function) => function(t),
        }
    }

    pub(crate) fn check(&self, argument: &str) -> Result<(), PartError> {
        match self {
            Self::Constant(value) if !value.is_finite() => Err(PartError::range(argument, value, "a finite number")),
            Self::Table { times, values } => {
                let rising = times.windows(2).all(|pair| pair[0] < pair[1]);
                let finite = times.iter().chain(values).all(|value| value.is_finite());
                if times.is_empty() || times.len() != values.len() || !rising || !finite {
                    let shape = format!("a table of {} times and {} values", times.len(), values.len());
                    let allowed = "as many finite values as rising finite times, at least one";
                    return Err(PartError::range(argument, shape, allowed));
                }
                Ok(())
            }
            _ => Ok(()),
        }
    }

    /// Memory of a source: how many corners have passed.
    pub(crate) fn memory(&self) -> Memory {
        Memory::new(0, [])
    }

    /// The next corner, given how many have passed.
    pub(crate) fn next_corner(&self, memory: &Memory) -> Option<f64> {
        match self {
            Self::Table { times, .. } => times.get(memory.mode as usize).copied(),
            _ => None,
        }
    }
}
