//! What a duty cycle calls for.

use crate::drive::{Control, Direction};
use crate::error::Error;
use crate::quantity::{Fraction, IntoQuantity, Time};

/// A part of a cycle with the control in one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The direction called for; none at rest.
    pub call: Option<Direction>,
    /// How long, s; infinite in a cycle that does not repeat.
    pub duration: f64,
}

/// Duty by its kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CycleKind {
    /// S1: held for ever.
    Continuous,
    /// S2: once from cold, then a rest until cold again.
    ShortTime,
    /// S3, or any other cycle that repeats for ever.
    Repeated,
}

/// A duty cycle: S1, S2 or S3 of IEC 60034-1, or any spans of forward, reverse and rest that repeat.
///
/// S3 by the standard leaves the heat of starting out of account; here the surge of every start, braking and reversal
/// counts (as in the standard's S4 and S5).
///
/// Source: IEC 60034-1 (duty types, the cycle of 10 min; from memory).
///
/// # Example
/// ```
/// use stallpoint::drive::Direction;
/// use stallpoint::studies::duty::Cycle;
///
/// let quarter = Cycle::intermittent(Direction::Forward, "25 %", "10 min")?;
/// assert_eq!(quarter.duty_factor(), Some(0.25));
/// let lift = Cycle::new().forward("40 s")?.rest("2 min")?.reverse("40 s")?.rest("10 min")?;
/// assert_eq!(lift.time(), Some(800.0));
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Cycle {
    kind: CycleKind,
    spans: Vec<Span>,
}

impl Default for Cycle {
    fn default() -> Self {
        Self { kind: CycleKind::Repeated, spans: Vec::new() }
    }
}

impl Cycle {
    /// The usual time of an S3 cycle, 10 min.
    pub const USUAL_TIME: Time = Time::from_si(600.0);

    /// A cycle of no span yet; add spans in their order.
    pub fn new() -> Self {
        Self::default()
    }

    /// S1: held in one direction for ever.
    pub fn continuous(direction: Direction) -> Self {
        let held = Span { call: Some(direction), duration: f64::INFINITY };
        Self { kind: CycleKind::Continuous, spans: vec![held] }
    }

    /// S2: held for a time (s, or a text with a unit) from cold, then at rest until cold again.
    ///
    /// # Errors
    /// A wrong unit; a time that is not above zero.
    pub fn short_time(direction: Direction, on: impl IntoQuantity<Time>) -> Result<Self, Error> {
        let rest = Span { call: None, duration: f64::INFINITY };
        Ok(Self {
            kind: CycleKind::ShortTime,
            spans: vec![Span { call: Some(direction), duration: time("on", on)? }, rest],
        })
    }

    /// S3: held for a share of the cycle, its cyclic duration factor; the usual cycle lasts 10 min.
    ///
    /// # Errors
    /// A wrong unit; a factor that is not between 0 and 1; a cycle time that is not above zero.
    pub fn intermittent(
        direction: Direction,
        duty_factor: impl IntoQuantity<Fraction>,
        cycle_time: impl IntoQuantity<Time>,
    ) -> Result<Self, Error> {
        let share = crate::parts::quantity("duty_factor", duty_factor)?.si();
        if !(share > 0.0 && share < 1.0) {
            let allowed = format!("above 0 and below 1; S1 is `continuous`{}", crate::parts::per_cent(share));
            return Err(Error::option("duty_factor", &share.to_string(), &allowed));
        }
        let whole = time("cycle_time", cycle_time)?;
        Self::new().then(Some(direction), share * whole)?.then(None, (1.0 - share) * whole)
    }

    /// Adds a span of forward.
    ///
    /// # Errors
    /// A wrong unit; a time that is not above zero; a cycle that does not repeat.
    pub fn forward(self, duration: impl IntoQuantity<Time>) -> Result<Self, Error> {
        self.then(Some(Direction::Forward), duration)
    }

    /// Adds a span of reverse.
    ///
    /// # Errors
    /// As for [`forward`](Cycle::forward).
    pub fn reverse(self, duration: impl IntoQuantity<Time>) -> Result<Self, Error> {
        self.then(Some(Direction::Reverse), duration)
    }

    /// Adds a span of rest.
    ///
    /// # Errors
    /// As for [`forward`](Cycle::forward).
    pub fn rest(self, duration: impl IntoQuantity<Time>) -> Result<Self, Error> {
        self.then(None, duration)
    }

    /// Adds a span; one like the last makes that longer.
    fn then(mut self, call: Option<Direction>, duration: impl IntoQuantity<Time>) -> Result<Self, Error> {
        let duration = time("duration", duration)?;
        if self.kind != CycleKind::Repeated {
            return Err(Error::option("cycle", "S1 or S2", "one that repeats; begin with an empty cycle"));
        }
        match self.spans.last_mut() {
            Some(last) if last.call == call => last.duration += duration,
            _ => self.spans.push(Span { call, duration }),
        }
        Ok(self)
    }

    /// Its kind.
    pub fn kind(&self) -> CycleKind {
        self.kind
    }

    /// Its spans.
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// How long it takes, s; none when it does not repeat.
    pub fn time(&self) -> Option<f64> {
        let whole: f64 = self.spans.iter().map(|span| span.duration).sum();
        whole.is_finite().then_some(whole)
    }

    /// Time in one cycle during which a direction is called for, s; both directions without one.
    pub fn on_time(&self, direction: Option<Direction>) -> f64 {
        let on =
            self.spans.iter().filter(|span| span.call.is_some() && (direction.is_none() || span.call == direction));
        on.map(|span| span.duration).sum()
    }

    /// Cyclic duration factor: the share of the cycle in which the motor is energised; none for S2.
    pub fn duty_factor(&self) -> Option<f64> {
        match self.kind {
            CycleKind::Continuous => Some(1.0),
            CycleKind::ShortTime => None,
            CycleKind::Repeated => Some(self.on_time(None) / self.time()?),
        }
    }

    /// The longest time for which a direction is called for without a break, s, round the end of the cycle too.
    pub fn longest_on(&self, direction: Direction) -> f64 {
        let of = |span: &&Span| span.call == Some(direction);
        let longest = self.spans.iter().filter(of).map(|span| span.duration).fold(0.0, f64::max);
        match (self.spans.first(), self.spans.last()) {
            (Some(_), Some(_)) if self.kind == CycleKind::Repeated && self.spans.len() == 1 => {
                if longest > 0.0 {
                    f64::INFINITY
                } else {
                    0.0
                }
            }
            (Some(first), Some(last)) if of(&first) && of(&last) && self.spans.len() > 1 => {
                longest.max(first.duration + last.duration)
            }
            _ => longest,
        }
    }

    /// Refuses what is no cycle.
    ///
    /// # Errors
    /// No span at all; rest only.
    pub fn check(&self) -> Result<(), Error> {
        if self.spans.iter().any(|span| span.call.is_some()) {
            return Ok(());
        }
        Err(Error::option("cycle", "at rest for ever", "with a span of forward or reverse"))
    }

    /// The control for `rounds` cycles one after the other, each span `lasting` as long as that says of it.
    pub(super) fn control(&self, rounds: usize, lasting: impl Fn(&Span) -> f64) -> Result<Control, Error> {
        let mut calls: Vec<(Option<Direction>, f64, f64)> = Vec::new();
        let mut t = 0.0;
        for span in (0..rounds).flat_map(|_| &self.spans) {
            let end = t + lasting(span);
            match calls.last_mut() {
                Some(last) if last.0 == span.call => last.2 = end,
                _ => calls.push((span.call, t, end)),
            }
            t = end;
        }
        let last = calls.len().saturating_sub(1);
        let calls = calls.into_iter().enumerate().filter_map(|(k, (call, from, to))| {
            // Held beyond the end, so that nothing ends with it.
            call.map(|call| (call, from, if k == last { f64::MAX } else { to }))
        });
        calls.into_iter().try_fold(Control::new(), |control, (call, from, to)| control.call(call, from, to))
    }
}

impl std::fmt::Display for Cycle {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        let words = |span: &Span| {
            let call = span.call.map_or_else(|| "rest".into(), |call| call.to_string());
            let duration =
                if span.duration.is_finite() { crate::report::quantity(span.duration, "s") } else { "on".into() };
            format!("{call} {duration}")
        };
        let spans = self.spans.iter().map(words).collect::<Vec<_>>().join(", ");
        match self.kind {
            CycleKind::Continuous => write!(f, "S1, {} for ever", spans.trim_end_matches(" on")),
            CycleKind::ShortTime => write!(f, "S2, {} from cold, then rest until cold", words(&self.spans[0])),
            CycleKind::Repeated => write!(f, "{spans}, repeated"),
        }
    }
}

fn time(argument: &str, value: impl IntoQuantity<Time>) -> Result<f64, Error> {
    let value = crate::parts::quantity(argument, value)?;
    crate::parts::above_zero(argument, value)?;
    Ok(value.si())
}
