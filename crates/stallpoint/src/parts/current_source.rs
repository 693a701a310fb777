//! Ideal current source.

use std::sync::Arc;

use super::Waveform;
use crate::circuit::{At, Change, Memory, Part, Path, Power, Stamp, Terminal, Tie, Trigger, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{Current, IntoQuantity};

/// An ideal current source: `i = I(t)` into `plus`, through the source, out of `minus`.
///
/// # Example
/// ```
/// use stallpoint::parts::CurrentSource;
///
/// let load = CurrentSource::constant("5 A")?;
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct CurrentSource {
    /// Current over time, A.
    pub current: Waveform,
}

const PLUS: usize = 0;
const MINUS: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];

impl CurrentSource {
    /// A constant current (A, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit or a number that is not finite.
    pub fn constant(current: impl IntoQuantity<Current>) -> Result<Self, Error> {
        Ok(Self { current: Waveform::Constant(super::quantity("current", current)?.si()) })
    }

    /// A table of rising times (s) and values (A), straight between its rows, constant outside.
    ///
    /// # Errors
    /// Times that do not rise, lengths that differ, numbers that are not finite.
    pub fn table(times: impl Into<Vec<f64>>, values: impl Into<Vec<f64>>) -> Result<Self, Error> {
        let source = Self { current: Waveform::Table { times: times.into(), values: values.into() } };
        source.check()?;
        Ok(source)
    }

    /// A smooth function of time, s to A.
    pub fn function(function: impl Fn(f64) -> f64 + Send + Sync + 'static) -> Self {
        Self { current: Waveform::Function(Arc::new(function)) }
    }
}

impl Part for CurrentSource {
    fn kind(&self) -> &'static str {
        "current source"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.current.check("current")
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        super::branch_current(at, out, PLUS, MINUS, I);
        out.f(I, at.x(I) - self.current.value(at.t));
        out.df(I, I, 1.0);
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(PLUS, MINUS, Tie::FixesCurrent)]
    }

    fn memory(&self) -> Memory {
        self.current.memory()
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        self.current.next_corner(memory)
    }

    fn change(&self, trigger: Trigger, _at: &At, change: &mut Change) {
        if trigger == Trigger::Time {
            change.memory.mode += 1;
        }
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: -at.x(I) * (at.x(PLUS) - at.x(MINUS)), dissipated: 0.0 }
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
