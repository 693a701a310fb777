//! The fast runs: one cycle, each span followed until it has settled, at frozen temperatures.

use super::bodies::{Body, Law};
use super::measures::Measures;
use super::profile::SpanLoads;
use super::{Cycle, DutyOptions, Span};
use crate::circuit::{Ending, Run, State, TransientOptions, Watcher};
use crate::drive::{Control, Direction, Drive};
use crate::error::Error;
use crate::parts::{Shaft, TripBand};
use crate::quantity::Temperature;

/// Stretches of a followed span, and the end of the first, s: spread evenly in the logarithm of time.
const STRETCHES: u32 = 24;
const FIRST: f64 = 2e-3;
/// A multiple of the rated current that nothing reaches, for a breaker that stays closed.
const NEVER: f64 = 1e9;

/// How long a span is followed, s.
pub(super) fn followed(span: &Span, options: &DutyOptions) -> f64 {
    span.duration.min(options.follow)
}

/// The fast runs as they go on from pass to pass.
pub(super) struct Follower<'a> {
    pub(super) drive: &'a Drive,
    pub(super) cycle: &'a Cycle,
    pub(super) options: &'a DutyOptions,
    pub(super) control: Control,
    pub(super) measures: &'a Measures,
    pub(super) bodies: &'a [Body],
    state: Option<State>,
    /// Times that a contactor let go while it was energised, in the last pass.
    pub(super) dropouts: usize,
}

impl<'a> Follower<'a> {
    pub(super) fn new(
        drive: &'a Drive,
        cycle: &'a Cycle,
        options: &'a DutyOptions,
        measures: &'a Measures,
        bodies: &'a [Body],
        passes: usize,
    ) -> Result<Self, Error> {
        let control = cycle.control(passes, |span| followed(span, options))?;
        Ok(Self { drive, cycle, options, control, measures, bodies, state: None, dropouts: 0 })
    }

    /// One cycle with each body held at its `temperatures` (body by body, span by span).
    pub(super) fn pass(&mut self, temperatures: &[Vec<f64>], watcher: Watcher) -> Result<Vec<SpanLoads>, Error> {
        self.dropouts = 0;
        let spans = self.cycle.spans().to_vec();
        spans.iter().enumerate().map(|(k, span)| self.span(span, k, temperatures, watcher)).collect()
    }

    fn span(&mut self, span: &Span, k: usize, temperatures: &[Vec<f64>], watcher: Watcher) -> Result<SpanLoads, Error> {
        let now = temperatures.iter().map(|of_body| of_body[k]);
        let frozen = frozen(self.drive, span.call, self.bodies.iter().zip(now))?;
        let circuit = frozen.circuit(&self.control)?;
        let from = self.state.as_ref().map_or(0.0, |state| state.time);
        if let Some(state) = &mut self.state {
            let winding = frozen.motor.armature().winding_temperature_c.si();
            state.set(&circuit, "motor", "winding_temperature", winding)?;
            state.set(&circuit, "battery", "state_of_charge", self.drive.battery.state_of_charge.si())?;
        }
        let until = from + followed(span, self.options);
        let transient = TransientOptions {
            rtol: self.options.rtol,
            start: self.state.take(),
            energy: false,
            ..TransientOptions::default()
        };
        let run = circuit.transient_watched(until, &transient, watcher)?;
        match run.ending {
            Ending::Finished | Ending::StoppedAtEvent => {}
            Ending::Cancelled => return Err(Error::Cancelled),
            Ending::StepLimit => {
                return Err(Error::option("max_steps", "reached", "more, for this study needs whole runs"));
            }
        }
        if let Some(call) = span.call {
            let word = format!("coil {} drops out", call.letter().to_uppercase());
            self.dropouts += run.events.iter().filter(|event| event.part == "contactor" && event.what == word).count();
        }
        self.state = run.state_at_end();
        let stalled = span.call.is_some()
            && self.state.as_ref().is_some_and(|state| state.mode("motor.shaft") == Some(Shaft::STUCK));
        let mut stretches = stretches(&run, self.measures)?;
        for (_, means) in &mut stretches {
            self.measures.heat_coils(&frozen.contactor.coil, means);
        }
        Ok(SpanLoads { call: span.call, duration: span.duration, stalled, stretches })
    }
}

/// The drive with its bodies held at temperatures and a breaker that stays closed.
fn frozen<'b>(
    drive: &Drive,
    call: Option<Direction>,
    bodies: impl Iterator<Item = (&'b Body, f64)>,
) -> Result<Drive, Error> {
    let mut frozen = drive.clone();
    frozen.motor = drive.motor.held_at(drive.motor.armature().winding_temperature_c.si());
    frozen.battery.cut_off = None;
    let never = TripBand::points([[NEVER, NEVER]], [[NEVER, NEVER]])?;
    if let Some(fuse) = &mut frozen.fuse {
        fuse.trip_band = Some(never.clone());
    }
    if let Some(breaker) = &mut frozen.breaker {
        breaker.trip_band = never;
        breaker.magnetic = None;
    }
    for (body, temperature) in bodies {
        match &body.law {
            Law::Winding { .. } => frozen.motor = drive.motor.held_at(temperature),
            Law::Conductor { part, .. } => {
                let cable = match *part {
                    "supply_cable" => Some(&mut frozen.supply_cable),
                    "ground_cable" => Some(&mut frozen.ground_cable),
                    "battery_lead" => frozen.battery_lead.as_mut(),
                    "isolator_lead" => frozen.isolator_lead.as_mut(),
                    _ => frozen.motor_lead.as_mut(),
                };
                if let Some(cable) = cable {
                    cable.temperature_c = Temperature::from_si(temperature);
                    cable.heats = false;
                }
            }
            Law::Coil { direction, .. } if call == Some(*direction) => {
                frozen.contactor.coil.temperature_c = Temperature::from_si(temperature);
            }
            Law::Coil { .. } | Law::Path { .. } | Law::Trip { .. } => {}
        }
    }
    Ok(frozen)
}

/// Means between rows that lie about evenly in the logarithm of time.
fn stretches(run: &Run, measures: &Measures) -> Result<Vec<(f64, Vec<f64>)>, Error> {
    let times = run.time();
    let (Some(&start), Some(&end)) = (times.first(), times.last()) else { return Ok(Vec::new()) };
    let sums = measures.sums(run)?;
    let whole = end - start;
    let first = FIRST.min(0.1 * whole);
    let mut made = Vec::new();
    let mut before = 0;
    for k in 0..=STRETCHES {
        let wanted = start + first * (whole / first).powf(f64::from(k) / f64::from(STRETCHES));
        let row = if k == STRETCHES { times.len() - 1 } else { times.partition_point(|&t| t < wanted) };
        let lasts = times[row] - times[before];
        if lasts > 0.0 {
            made.push((lasts, sums.iter().map(|sum| (sum[row] - sum[before]) / lasts).collect()));
            before = row;
        }
    }
    Ok(made)
}
