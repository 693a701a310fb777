//! The cut-off of a lithium pack's battery management.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{Change, Memory, Trigger};
use crate::error::PartError;
use crate::quantity::{Current, Time, Voltage};

/// Battery management that opens the pack's discharge transistors: on over-current after a delay, on under-voltage after
/// another. Both are of the whole bank at its terminals.
///
/// ```text
/// closed:  v_plus - v_minus = u                     u: voltage of the cells
/// open:    i = -g(e),  e = u - (v_plus - v_minus)
///          g = 0.1 mS e,  + h(e - clamp) for e > clamp,  - h(-e) for e < 0,   h(x) = 100 S x² / (x + 0.1 V)
/// ```
///
/// When it is open the transistors hold up to `clamp_voltage` before they break down, so that a motor's current has somewhere
/// to go, and their body diodes still let a charging current in. It reconnects after `reconnects_after` if that is given
/// and over-current had opened it; else it stays open to the end of the run.
///
/// Events: "current above …", "cuts off: over-current", "cuts off: under-voltage", "reconnects".
///
/// Limits: no cell is watched on its own; no over-temperature, no over-voltage on charge; the transistors' own resistance
/// belongs to the series resistance. At an operating point the delays pass at once.
///
/// Source: the principle as in data sheets; clamp of 30 V a block, conductances and delays typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::{Battery, CutOff};
///
/// let mut pack = Battery::lithium_iron_phosphate("100 Ah", "3 mohm")?;
/// pack.cut_off = Some(CutOff::new("200 A", "10 V")?);
/// assert!((pack.cut_off.unwrap().over_current_delay.si() - 0.1).abs() < 1e-15);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutOff {
    /// Discharge current of the bank above which it opens, A.
    pub over_current: Current,
    /// How long the current must last, s.
    #[serde(default = "over_current_delay")]
    pub over_current_delay: Time,
    /// Terminal voltage of the bank below which it opens, V.
    pub under_voltage: Voltage,
    /// How long the voltage must stay below, s.
    #[serde(default = "under_voltage_delay")]
    pub under_voltage_delay: Time,
    /// Time after which it reconnects when over-current had opened it, s; never when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reconnects_after: Option<Time>,
    /// Voltage that the open transistors hold, V; 30 V for each block in series when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clamp_voltage: Option<Voltage>,
}

fn over_current_delay() -> Time {
    Time::from_si(0.1) // typical, no source
}

fn under_voltage_delay() -> Time {
    Time::from_si(1.0) // typical, no source
}

/// Voltage that open transistors hold for each nominal 12 V block, V (typical, no source).
const CLAMP: f64 = 30.0;
/// What the open transistors, their snubber and the management's own supply let through, S (typical, no source). An
/// inductance's last current dies away in it.
const LEAKAGE: f64 = 1e-4;
/// Slope of the broken-down transistors and of their body diodes, S, and the voltage over which it sets in, V (typical).
const SLOPE: f64 = 100.0;
const KNEE: f64 = 0.1;

/// Bits of the memory's mode: open; a timer of over-current runs; one of under-voltage.
const OPENED: u32 = 1;
const OVER_RUNS: u32 = 2;
const UNDER_RUNS: u32 = 4;
/// Places of the timers in the memory.
const OVER: usize = 0;
const UNDER: usize = 1;
const RECONNECT: usize = 2;

impl CutOff {
    /// Share of the limit that ends a beginning trip when current or voltage comes back across it by so much.
    pub(crate) const BACK: f64 = 0.01;

    /// Limits of current (A) and voltage (V), with typical delays.
    ///
    /// # Errors
    /// A wrong unit; a limit that is not above zero.
    pub fn new(
        over_current: impl crate::quantity::IntoQuantity<Current>,
        under_voltage: impl crate::quantity::IntoQuantity<Voltage>,
    ) -> Result<Self, crate::error::Error> {
        let cut_off = Self {
            over_current: crate::parts::quantity("cut_off.over_current", over_current)?,
            over_current_delay: over_current_delay(),
            under_voltage: crate::parts::quantity("cut_off.under_voltage", under_voltage)?,
            under_voltage_delay: under_voltage_delay(),
            reconnects_after: None,
            clamp_voltage: None,
        };
        cut_off.check()?;
        Ok(cut_off)
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, not_negative};
        above_zero("cut_off.over_current", self.over_current)?;
        not_negative("cut_off.over_current_delay", self.over_current_delay)?;
        above_zero("cut_off.under_voltage", self.under_voltage)?;
        not_negative("cut_off.under_voltage_delay", self.under_voltage_delay)?;
        if let Some(time) = self.reconnects_after {
            above_zero("cut_off.reconnects_after", time)?;
        }
        match self.clamp_voltage {
            Some(voltage) => above_zero("cut_off.clamp_voltage", voltage),
            None => Ok(()),
        }
    }

    /// Current out of the open pack at a voltage `e` across its transistors, and its slope.
    pub(super) fn open_current(&self, e: f64, blocks: f64) -> (f64, f64) {
        let clamp = self.clamp_voltage.map_or(CLAMP * blocks, |v| v.si());
        let (out, out_slope) = knee(e - clamp);
        let (back, back_slope) = knee(-e);
        (LEAKAGE * e + out - back, LEAKAGE + out_slope + back_slope)
    }

    pub(super) const GUARDS: [&'static str; 4] =
        ["current above the limit", "current back", "voltage below the limit", "voltage back"];

    pub(super) fn memory() -> Memory {
        Memory::new(0, [f64::INFINITY; 3])
    }

    pub(super) fn is_open(memory: &Memory) -> bool {
        memory.mode & OPENED != 0
    }

    pub(super) fn guard_values(&self, discharge: f64, voltage: f64, memory: &Memory, out: &mut [f64]) {
        out.fill(-1.0);
        if Self::is_open(memory) {
            return;
        }
        let (most, least) = (self.over_current.si(), self.under_voltage.si());
        match memory.mode & OVER_RUNS != 0 {
            false => out[0] = discharge - most,
            true => out[1] = (1.0 - Self::BACK) * most - discharge,
        }
        match memory.mode & UNDER_RUNS != 0 {
            false => out[2] = least - voltage,
            true => out[3] = voltage - (1.0 + Self::BACK) * least,
        }
    }

    pub(super) fn next_time(memory: &Memory) -> Option<f64> {
        memory.numbers.iter().copied().reduce(f64::min)
    }

    pub(super) fn change(&self, trigger: Trigger, t: f64, change: &mut Change) {
        match trigger {
            Trigger::Guard(0) if self.over_current_delay.si() > 0.0 => {
                Self::run(OVER, OVER_RUNS, t + self.over_current_delay.si(), &mut change.memory);
                change.event(format!("current above {}", self.over_current));
            }
            Trigger::Guard(0) => self.open(t, true, change),
            Trigger::Guard(1) => Self::run(OVER, OVER_RUNS, f64::INFINITY, &mut change.memory),
            Trigger::Guard(2) if self.under_voltage_delay.si() > 0.0 => {
                Self::run(UNDER, UNDER_RUNS, t + self.under_voltage_delay.si(), &mut change.memory);
                change.event(format!("voltage below {}", self.under_voltage));
            }
            Trigger::Guard(2) => self.open(t, false, change),
            Trigger::Guard(_) => Self::run(UNDER, UNDER_RUNS, f64::INFINITY, &mut change.memory),
            Trigger::Time if Self::is_open(&change.memory) => {
                change.memory = Self::memory();
                change.event("reconnects");
            }
            Trigger::Time => {
                let over_current = change.memory.numbers[OVER] <= change.memory.numbers[UNDER];
                self.open(t, over_current, change);
            }
        }
    }

    /// Starts a timer, or stops it with an infinite time.
    fn run(timer: usize, bit: u32, due: f64, memory: &mut Memory) {
        memory.numbers[timer] = due;
        memory.mode = if due.is_finite() { memory.mode | bit } else { memory.mode & !bit };
    }

    fn open(&self, t: f64, over_current: bool, change: &mut Change) {
        let mut opened = Self::memory();
        opened.mode = OPENED;
        if let (true, Some(after)) = (over_current, self.reconnects_after) {
            opened.numbers[RECONNECT] = t + after.si();
        }
        change.memory = opened;
        change.event(if over_current { "cuts off: over-current" } else { "cuts off: under-voltage" });
    }
}

/// A conductance that sets in above zero, and its slope.
fn knee(x: f64) -> (f64, f64) {
    if x <= 0.0 {
        return (0.0, 0.0);
    }
    (SLOPE * x * x / (x + KNEE), SLOPE * x * (x + 2.0 * KNEE) / ((x + KNEE) * (x + KNEE)))
}
