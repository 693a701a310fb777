//! A contact with its arc: the law that every switching part shares.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::circuit::{At, Stamp};
use crate::error::PartError;
use crate::quantity::{Conductance, Current, Length, Resistance, Time, Voltage};

/// A contact: a small resistance closed, a leak open, and between them an arc.
///
/// ```text
/// closed:  v = R i
/// open:    i = G v
/// arc:     v = ±(U_min + E g(t)) + R_a i,   g(t) = gap · min(1, (t - t_open) / opening_time)
/// shower:  v = ±(U_min + E_strike gap) + R_a i
/// ```
///
/// A contact that opens with a current draws an arc; the arc goes out where its current passes zero, and strikes again
/// where the voltage exceeds `U_min · 1.1 + E_strike g(t)`. At the full gap an arc above the minimum arc current burns on,
/// and that is an event; below it the arc breaks off: the contact opens, unless an inductance keeps striking it. This shower
/// counts as one discharge at the striking voltage, down to zero current.
///
/// Limits: while the gap opens the arc burns down to zero current (real ones break off near the minimum arc current and
/// shower already then); no magnetic blow-out, no contact wear.
///
/// Source: R. Holm, Electric Contacts, 4th ed. (minimum arc voltage: silver 11 to 12.5 V); gradients typical, no source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Contact {
    /// Resistance when closed, ohm (default typical, no source).
    pub closed_resistance: Resistance,
    /// Leak when open, S (default typical, no source).
    pub open_conductance: Conductance,
    /// Minimum arc voltage `U_min`, V (default: silver, after Holm).
    pub arc_voltage: Voltage,
    /// Voltage that each metre of gap adds to a burning arc, over one metre: `E` times 1 m, V (typical, no source).
    pub arc_voltage_per_metre: Voltage,
    /// Voltage that each metre of gap withstands before the arc strikes again, over one metre, V (typical, no source).
    pub strike_voltage_per_metre: Voltage,
    /// Slope `R_a` of a burning arc, ohm (typical, no source; above zero keeps parallel arcs stable).
    pub arc_resistance: Resistance,
    /// Current below which an arc cannot hold once the gap is full, A (default: silver, after Holm, from memory).
    pub minimum_arc_current: Current,
    /// Full gap, m.
    pub gap: Length,
    /// Time from parting to the full gap, s.
    pub opening_time: Time,
}

impl Default for Contact {
    fn default() -> Self {
        Self {
            closed_resistance: Resistance::from_si(0.3e-3),
            open_conductance: Conductance::from_si(1e-9),
            arc_voltage: Voltage::from_si(12.0),
            arc_voltage_per_metre: Voltage::from_si(1.5e3),
            strike_voltage_per_metre: Voltage::from_si(300e3),
            arc_resistance: Resistance::from_si(10e-3),
            minimum_arc_current: Current::from_si(0.4),
            gap: Length::from_si(3e-3),
            opening_time: Time::from_si(5e-3),
        }
    }
}

/// Phases of a contact, as its memory stores them.
const CLOSED: f64 = 0.0;
const OPEN: f64 = 1.0;
const ARC_FORWARD: f64 = 2.0;
const ARC_BACKWARD: f64 = 3.0;
const SHOWER_FORWARD: f64 = 4.0;
const SHOWER_BACKWARD: f64 = 5.0;

/// Margin of the striking voltage over the arc's own, so that an arc that went out does not strike at once.
const STRIKE_MARGIN: f64 = 1.1;
/// Current below which parting contacts draw no arc, A, far below the least that sustains one (some 0.4 A for silver: from memory): else
/// the leaks of the neighbours would count as arcs. An inductive one strikes anyway when its voltage rises.
const NO_ARC_BELOW: f64 = 1e-3;

impl Contact {
    /// Numbers of memory a contact needs: phase, time of parting, time at which the gap is full.
    pub(crate) const NUMBERS: usize = 3;
    /// Guards of a contact, in this order.
    pub(crate) const GUARDS: [&'static str; 3] = ["arc goes out", "arc strikes forward", "arc strikes backward"];

    /// Memory of a contact at rest.
    pub(crate) fn rest(closed: bool) -> [f64; Self::NUMBERS] {
        [if closed { CLOSED } else { OPEN }, f64::NEG_INFINITY, f64::INFINITY]
    }

    pub(crate) fn check(&self) -> Result<(), PartError> {
        super::above_zero("closed_resistance", self.closed_resistance)?;
        super::above_zero("open_conductance", self.open_conductance)?;
        super::above_zero("arc_voltage", self.arc_voltage)?;
        super::not_negative("arc_voltage_per_metre", self.arc_voltage_per_metre)?;
        let (arc, strike) = (self.arc_voltage_per_metre, self.strike_voltage_per_metre);
        super::in_range("strike_voltage_per_metre", strike, strike >= arc, "at least arc_voltage_per_metre")?;
        super::above_zero("arc_resistance", self.arc_resistance)?;
        super::not_negative("minimum_arc_current", self.minimum_arc_current)?;
        super::above_zero("gap", self.gap)?;
        super::above_zero("opening_time", self.opening_time)
    }

    /// Whether the contact is closed.
    pub(crate) fn is_closed(numbers: &[f64]) -> bool {
        numbers[0] == CLOSED
    }

    /// Whether an arc burns.
    pub(crate) fn burns(numbers: &[f64]) -> bool {
        numbers[0] >= ARC_FORWARD
    }

    fn is_full(numbers: &[f64]) -> bool {
        numbers[2] == f64::INFINITY
    }

    fn gap_at(&self, t: f64, numbers: &[f64]) -> f64 {
        self.gap.si() * ((t - numbers[1]) / self.opening_time.si()).clamp(0.0, 1.0)
    }

    /// Adds the contact between local values `a` and `b` with its current as own unknown `i`.
    pub(crate) fn evaluate(&self, at: &At, out: &mut Stamp, a: usize, b: usize, i: usize, numbers: &[f64]) {
        self.evaluate_across(at, out, [a, b, i], numbers, self.gap_at(at.t, numbers));
    }

    /// The same across a gap of the caller's; returns what a metre of it adds to the voltage of the contact's row.
    pub(crate) fn evaluate_across(
        &self,
        at: &At,
        out: &mut Stamp,
        [a, b, i]: [usize; 3],
        numbers: &[f64],
        gap: f64,
    ) -> f64 {
        super::branch_current(at, out, a, b, i);
        // by_v · v + by_i · i = given
        let (by_v, by_i, given, by_gap) = match numbers[0] {
            CLOSED => (1.0, -self.closed_resistance.si(), 0.0, 0.0),
            OPEN => (-self.open_conductance.si(), 1.0, 0.0, 0.0),
            phase => {
                let shower = phase == SHOWER_FORWARD || phase == SHOWER_BACKWARD;
                let per_metre = if shower { self.strike_voltage_per_metre } else { self.arc_voltage_per_metre };
                let burns = self.arc_voltage.si() + per_metre.si() * gap;
                let sign = if phase == ARC_FORWARD || phase == SHOWER_FORWARD { 1.0 } else { -1.0 };
                (1.0, -self.arc_resistance.si(), sign * burns, sign * per_metre.si())
            }
        };
        out.f(i, by_v * (at.x(a) - at.x(b)) + by_i * at.x(i) - given);
        out.df(i, a, by_v);
        out.df(i, b, -by_v);
        out.df(i, i, by_i);
        by_gap
    }

    /// Writes the three guards.
    pub(crate) fn guard_values(&self, at: &At, a: usize, b: usize, i: usize, numbers: &[f64], out: &mut [f64]) {
        self.guards_across(at, [a, b, i], numbers, self.gap_at(at.t, numbers), out);
    }

    /// The same across a gap of the caller's.
    pub(crate) fn guards_across(&self, at: &At, [a, b, i]: [usize; 3], numbers: &[f64], gap: f64, out: &mut [f64]) {
        out.fill(-1.0);
        match numbers[0] {
            CLOSED => {}
            OPEN => {
                let strike = STRIKE_MARGIN * self.arc_voltage.si() + self.strike_voltage_per_metre.si() * gap;
                let v = at.x(a) - at.x(b);
                out[1] = v - strike;
                out[2] = -v - strike;
            }
            ARC_FORWARD => out[0] = self.least_current(numbers) - at.x(i),
            ARC_BACKWARD => out[0] = self.least_current(numbers) + at.x(i),
            SHOWER_FORWARD => out[0] = -at.x(i),
            _ => out[0] = at.x(i),
        }
    }

    /// Least current of an arc, A.
    fn least_current(&self, numbers: &[f64]) -> f64 {
        if Self::is_full(numbers) { self.minimum_arc_current.si() } else { 0.0 }
    }

    /// Lets one of the three guards act; returns what happened.
    pub(crate) fn fire(guard: usize, numbers: &mut [f64]) -> Option<&'static str> {
        let full = Self::is_full(numbers);
        let (phase, what) = match (guard, numbers[0]) {
            (0, ARC_FORWARD) if full => (SHOWER_FORWARD, "arc breaks off"),
            (0, ARC_BACKWARD) if full => (SHOWER_BACKWARD, "arc breaks off"),
            (0, phase) if phase >= ARC_FORWARD => (OPEN, "arc goes out"),
            (1, OPEN) => (ARC_FORWARD, if full { "arc strikes at full gap" } else { "arc strikes" }),
            (2, OPEN) => (ARC_BACKWARD, if full { "arc strikes at full gap" } else { "arc strikes" }),
            _ => return None,
        };
        numbers[0] = phase;
        Some(what)
    }

    /// Closes the contact.
    pub(crate) fn close(numbers: &mut [f64]) {
        numbers.copy_from_slice(&Self::rest(true));
    }

    /// Parts the contact at `t` while it carries `current`.
    pub(crate) fn part(&self, t: f64, current: f64, numbers: &mut [f64]) {
        numbers[0] = match current {
            c if c > NO_ARC_BELOW => ARC_FORWARD,
            c if c < -NO_ARC_BELOW => ARC_BACKWARD,
            _ => OPEN,
        };
        numbers[1] = t;
        numbers[2] = t + self.opening_time.si();
    }

    /// When the gap will be full; infinite when it is, or when closed.
    pub(crate) fn next_time(numbers: &[f64]) -> f64 {
        numbers[2]
    }

    /// The gap is full while the contact carries `current`: an arc that burns on is worth an event; the guard sees to a weak one.
    pub(crate) fn full_gap(&self, current: f64, numbers: &mut [f64]) -> Option<&'static str> {
        // Full from now on, also for an operating point, where delays pass while the time stands still.
        numbers[1] = f64::NEG_INFINITY;
        numbers[2] = f64::INFINITY;
        let burns_on = Self::burns(numbers) && current.abs() >= self.minimum_arc_current.si();
        burns_on.then_some("arc persists at full gap")
    }

    /// Power turned into heat, W.
    pub(crate) fn heat(at: &At, a: usize, b: usize, i: usize) -> f64 {
        (at.x(a) - at.x(b)) * at.x(i)
    }
}
