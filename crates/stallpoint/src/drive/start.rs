//! Starting a drive, working its control, and what the surge was.

use std::ops::Deref;

use super::control::{Control, Direction};
use super::description::Drive;
use crate::circuit::{
    Circuit, Extremes, Flow, OperatingOptions, OperatingPoint, Run, Signal, StartFrom, TransientOptions, Watcher,
};
use crate::error::Error;
use crate::parts::Shaft;
use crate::quantity::{IntoQuantity, Time};

/// Settings of a start.
#[derive(Debug, Clone)]
pub struct StartOptions {
    /// How long the control is held, s.
    pub hold: f64,
    /// Settings of the transient.
    pub transient: TransientOptions,
}

impl StartOptions {
    /// Held for a time (s, or a text with a unit), with the default tolerance.
    ///
    /// # Errors
    /// A wrong unit, or a time that is not above zero.
    pub fn hold(time: impl IntoQuantity<Time>) -> Result<Self, Error> {
        let hold = crate::parts::quantity("hold", time)?;
        crate::parts::above_zero("hold", hold)?;
        Ok(Self { hold: hold.si(), transient: TransientOptions::default() })
    }
}

/// Whether the breaker or the fuse opens, told by both edges of its trip band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trips {
    /// Not even the fastest device would.
    No,
    /// A fast device would, a slow one not.
    May,
    /// Even the slowest device would.
    Will,
}

impl std::fmt::Display for Trips {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::No => "no",
            Self::May => "may",
            Self::Will => "will",
        })
    }
}

/// The start-up surge in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Surge {
    /// Largest current through the breaker or the fuse, A.
    pub peak_current: f64,
    /// When it was largest, s.
    pub time_of_peak: f64,
    /// Largest current through the motor, A.
    pub peak_motor_current: f64,
    /// Time to 95 % of the settled speed, s; none when it is not reached.
    pub time_to_speed: Option<f64>,
    /// ∫ i² dt through the breaker or the fuse until the time to speed, or over the whole hold when that is not reached, A²s.
    pub surge_i2t: f64,
    /// Lowest voltage from the supply stud to the ground stud, V.
    pub lowest_stud_voltage: f64,
    /// Lowest voltage at the energised coil, V.
    pub lowest_coil_voltage: f64,
    /// Whether the shaft stands at the end of the hold.
    pub stalled: bool,
    /// Whether the breaker or the fuse opens during the hold.
    pub trips: Trips,
    /// When the breaker or the fuse at its band position opened, s.
    pub tripped_at: Option<f64>,
    /// How often the contactor let go while it was energised, before the breaker opened.
    pub dropouts: usize,
}

/// A run of a drive from rest with its surge (and by [`Deref`] everything of the [`Run`]).
#[derive(Debug, Clone)]
pub struct Start {
    /// The run.
    pub run: Run,
    /// The surge in figures.
    pub surge: Surge,
}

impl Deref for Start {
    type Target = Run;

    fn deref(&self) -> &Run {
        &self.run
    }
}

impl Drive {
    /// Starts the drive from rest, holding the control for `options.hold`; the run ends with the hold.
    ///
    /// # Errors
    /// A description that cannot be a drive; equations that cannot be solved on.
    pub fn start(&self, direction: Direction, options: &StartOptions) -> Result<Start, Error> {
        self.start_watched(direction, options, &mut |_| Flow::Continue)
    }

    /// As [`start`](Drive::start), with a watcher for progress and stop.
    ///
    /// # Errors
    /// As for [`start`](Drive::start).
    pub fn start_watched(
        &self,
        direction: Direction,
        options: &StartOptions,
        watcher: Watcher,
    ) -> Result<Start, Error> {
        // Held beyond the end of the run, so that the run does not end with the release.
        let control = Control::new().call(direction, 0.0, 2.0 * options.hold)?;
        let circuit = self.circuit(&control)?;
        let run = circuit.transient_watched(options.hold, &options.transient, watcher)?;
        let surge = self.surge(direction, &circuit, &run, options)?;
        Ok(Start { run, surge })
    }

    /// Works the control as given from rest, until a time (s, or a text with a unit).
    ///
    /// # Errors
    /// As for [`start`](Drive::start).
    pub fn run(&self, control: &Control, until: impl IntoQuantity<Time>) -> Result<Run, Error> {
        self.run_with(control, until, &TransientOptions::default(), &mut |_| Flow::Continue)
    }

    /// As [`run`](Drive::run), with options and a watcher.
    ///
    /// # Errors
    /// As for [`start`](Drive::start).
    pub fn run_with(
        &self,
        control: &Control,
        until: impl IntoQuantity<Time>,
        options: &TransientOptions,
        watcher: Watcher,
    ) -> Result<Run, Error> {
        let until = crate::parts::quantity("until", until)?.si();
        self.circuit(control)?.transient_watched(until, options, watcher)
    }

    /// The operating point with the control held in a direction, or at rest.
    ///
    /// # Errors
    /// A description that cannot be a drive; no equilibrium (a contactor that chatters is named).
    pub fn operating_point(
        &self,
        held: Option<Direction>,
        options: &OperatingOptions,
    ) -> Result<OperatingPoint, Error> {
        let control = match held {
            Some(direction) => Control::new().call(direction, 0.0, f64::MAX)?,
            None => Control::new(),
        };
        self.circuit(&control)?.operating_point_with(options)
    }

    /// Speed at which the drive runs with the control held, rad/s; none when it does not run or does not settle.
    ///
    /// # Errors
    /// A description that cannot be a drive.
    pub fn settled_speed(&self, direction: Direction) -> Result<Option<f64>, Error> {
        let options = OperatingOptions { start: StartFrom::Running, ..Default::default() };
        match self.operating_point(Some(direction), &options) {
            Ok(op) if !op.stuck => Ok(Some(op.state("motor", "speed")?)),
            Ok(_) | Err(Error::NoEquilibrium { .. } | Error::Solve { .. }) => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn surge(
        &self,
        direction: Direction,
        circuit: &Circuit,
        run: &Run,
        options: &StartOptions,
    ) -> Result<Surge, Error> {
        let device = self.protection();
        let current = |part: &str| run.extremes(&Signal::Current(part.into()));
        let (peak_current, time_of_peak) = largest(&current(device.name())?);
        let (peak_motor_current, _) = largest(&current("motor")?);
        let speed = Signal::State("motor".into(), "speed".into());
        let time_to_speed = match self.settled_speed(direction)? {
            // A load that drives the shaft the other way settles too, but not where it should.
            Some(settled) if settled * direction.sign() > 0.0 => {
                run.crossing(&speed, 0.95 * settled, settled > 0.0, 0.0)?
            }
            _ => None,
        };
        let surge_until = time_to_speed.unwrap_or(options.hold);
        let surge_i2t = i2t(run, device.name(), surge_until)?;
        let studs = run.extremes(&Signal::Between("supply_stud".into(), "ground_stud".into()))?;
        let coil = format!("coil_{}", direction.letter());
        let coil = run.extremes(&Signal::Between(coil, "coil_return".into()))?;
        let happened = |part: &str, word: &str| {
            run.events.iter().filter(|e| e.part == part && e.what.contains(word)).map(|e| e.time).collect::<Vec<_>>()
        };
        let tripped_at = happened(device.name(), device.opens()).first().copied();
        // Once the breaker is open a control fed behind it is dead: letting go then is no chatter.
        let until = tripped_at.unwrap_or(f64::INFINITY);
        let dropouts = happened("contactor", "drops out").iter().filter(|&&time| time < until).count();
        let stalled = run.state_at_end().is_some_and(|end| end.mode("motor.shaft") == Some(Shaft::STUCK));
        let trips = self.trips(circuit, run, options, tripped_at.is_some())?;
        Ok(Surge {
            peak_current,
            time_of_peak,
            peak_motor_current,
            time_to_speed,
            surge_i2t,
            lowest_stud_voltage: studs.min,
            lowest_coil_voltage: coil.min,
            stalled,
            trips,
            tripped_at,
            dropouts,
        })
    }

    /// What both edges of the band say. When the device at its own position opened, the slow edge saw only a part of the
    /// surge: the start is then repeated with the slowest device.
    fn trips(&self, circuit: &Circuit, run: &Run, options: &StartOptions, tripped: bool) -> Result<Trips, Error> {
        let device = self.protection();
        let reached = |run: &Run, edge: &str| -> Result<f64, Error> {
            Ok(run.extremes(&Signal::State(device.name().into(), format!("trip_fraction_{edge}")))?.max)
        };
        if !(reached(run, "fastest")? >= 1.0) {
            return Ok(Trips::No);
        }
        let slowest = if tripped && device.band_position() < 1.0 {
            let mut slow_circuit = circuit.clone();
            slow_circuit.replace(device.name(), device.part_at(1.0))?;
            reached(&slow_circuit.transient(options.hold, &options.transient)?, "slowest")?
        } else {
            reached(run, "slowest")?
        };
        Ok(if slowest >= 1.0 { Trips::Will } else { Trips::May })
    }
}

/// ∫ i² dt of a part's current from the start of a run until a time, A²s: whole steps by their own rule, the rest of the
/// last one by Simpson's on the dense output.
fn i2t(run: &Run, part: &str, until: f64) -> Result<f64, Error> {
    let sums = run.accumulated(&Signal::Current(part.into()), |i| i * i)?;
    let row = run.time().partition_point(|&t| t <= until).saturating_sub(1);
    let (Some(&sum), Some(&from)) = (sums.get(row), run.time().get(row)) else { return Ok(0.0) };
    // A run that was cancelled may end before.
    let until = until.min(run.time().last().copied().unwrap_or(from));
    if until <= from {
        return Ok(sum);
    }
    let i = run.sample(&[from, 0.5 * (from + until), until])?.current(part)?;
    Ok(sum + (until - from) / 6.0 * (i[0] * i[0] + 4.0 * i[1] * i[1] + i[2] * i[2]))
}

/// The larger magnitude of two extremes, and when.
pub(crate) fn largest(extremes: &Extremes) -> (f64, f64) {
    if extremes.max.abs() >= extremes.min.abs() {
        (extremes.max.abs(), extremes.max_at)
    } else {
        (extremes.min.abs(), extremes.min_at)
    }
}
