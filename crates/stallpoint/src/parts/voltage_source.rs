//! Ideal voltage source.

use std::sync::Arc;

use super::Waveform;
use crate::circuit::{At, Change, Memory, Part, Path, Power, Stamp, Terminal, Tie, Trigger, Unknown, electrical, path};
use crate::error::{Error, PartError};
use crate::quantity::{IntoQuantity, Voltage};

/// An ideal voltage source: `v_plus - v_minus = E(t)`. Its current is positive into `plus`, so a source that delivers shows a
/// negative current.
///
/// # Example
/// ```
/// use stallpoint::parts::VoltageSource;
///
/// let constant = VoltageSource::constant("12.6 V")?;
/// let ramp = VoltageSource::table([0.0, 0.1], [0.0, 12.0])?;
/// let mains = VoltageSource::function(|t| 325.0 * (100.0 * std::f64::consts::PI * t).sin());
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct VoltageSource {
    /// Voltage over time, V.
    pub voltage: Waveform,
}

const PLUS: usize = 0;
const MINUS: usize = 1;
const I: usize = 2;
const TERMINALS: [Terminal; 2] = [electrical("plus"), electrical("minus")];

impl VoltageSource {
    /// A constant voltage (V, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit or a number that is not finite.
    pub fn constant(voltage: impl IntoQuantity<Voltage>) -> Result<Self, Error> {
        Ok(Self { voltage: Waveform::Constant(super::quantity("voltage", voltage)?.si()) })
    }

    /// A table of rising times (s) and values (V), straight between its rows, constant outside.
    ///
    /// # Errors
    /// Times that do not rise, lengths that differ, numbers that are not finite.
    pub fn table(times: impl Into<Vec<f64>>, values: impl Into<Vec<f64>>) -> Result<Self, Error> {
        let source = Self { voltage: Waveform::Table { times: times.into(), values: values.into() } };
        source.check()?;
        Ok(source)
    }

    /// A smooth function of time, s to V.
    pub fn function(function: impl Fn(f64) -> f64 + Send + Sync + 'static) -> Self {
        Self { voltage: Waveform::Function(Arc::new(function)) }
    }
}

impl Part for VoltageSource {
    fn kind(&self) -> &'static str {
        "voltage source"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        self.voltage.check("voltage")
    }

    fn unknowns(&self) -> Vec<Unknown> {
        vec![Unknown::fast("current", "A", 1.0)]
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        super::branch_current(at, out, PLUS, MINUS, I);
        out.f(I, at.x(PLUS) - at.x(MINUS) - self.voltage.value(at.t));
        out.df(I, PLUS, 1.0);
        out.df(I, MINUS, -1.0);
    }

    fn paths(&self) -> Vec<Path> {
        vec![path(PLUS, MINUS, Tie::FixesVoltage)]
    }

    fn memory(&self) -> Memory {
        self.voltage.memory()
    }

    fn next_time(&self, memory: &Memory) -> Option<f64> {
        self.voltage.next_corner(memory)
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
