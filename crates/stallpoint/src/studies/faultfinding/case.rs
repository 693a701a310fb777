//! A drive in all positions of its control, and what each instrument shows on it.

use super::measurement::{LIVE, Measurement, OPEN, Tool, ohm_scale};
use super::position::Held;
use super::snapshot::{Behaviour, CLAMPS, Snapshot, clamps, points};
use crate::drive::{Direction, Drive};
use crate::error::{Error, TopologyError};
use crate::parts::{Brightness, TestLamp, Voltmeter};

/// Speed below which the motor is said to stand, rad/s (typical, no source).
const STANDS: f64 = 1.0;

/// Share of a good drive's speed below which an eye or an ear calls it slow (typical, no source).
const SLOW: f64 = 0.75;

/// Resistance of an ohmmeter's leads, 2 V over 1 mA (as [`Ohmmeter`](crate::instruments::Ohmmeter)).
const OWN: f64 = 2e3;

/// What is the same for every case of a drive: its points, its lamp.
#[derive(Debug, Clone)]
pub(super) struct Bench {
    pub(super) points: Vec<String>,
    /// Parts round which a clamp goes.
    clamps: [String; CLAMPS.len()],
    /// "breaker" or "fuse".
    pub(super) device: &'static str,
    pub(super) lamp: TestLamp,
    /// Nominal voltage, V.
    pub(super) nominal: f64,
    /// Current of a dead short behind the breaker, A; none where that cannot be told.
    pub(super) short_circuit: Option<f64>,
    /// Speed of the drive as described, turning forward and in reverse, rad/s; 0 where it does not.
    speeds: [f64; 2],
}

/// Current of a dead short behind the breaker or fuse, A, where it is more than the device carries in any case.
pub(super) fn short_circuit(drive: &Drive) -> Option<f64> {
    drive.dead_short().ok().filter(|current| *current > drive.protection().rated_current().si())
}

impl Bench {
    pub(super) fn of(drive: &Drive) -> Result<Self, Error> {
        let nominal = 12.0 * f64::from(drive.battery.blocks_in_series);
        let short_circuit = short_circuit(drive);
        let speed = |way: Direction| drive.operating_point(Some(way), &Default::default())?.state("motor", "speed");
        let found = Direction::BOTH.map(|way| speed(way).unwrap_or(0.0));
        let fastest = |sign: f64| found.iter().map(|speed| sign * speed).fold(0.0, f64::max);
        let speeds = [fastest(1.0), fastest(-1.0)];
        Ok(Self {
            points: points(drive)?,
            clamps: clamps(drive),
            device: drive.protection().name(),
            lamp: TestLamp::new(nominal, 21.0)?,
            nominal,
            short_circuit,
            speeds,
        })
    }

    fn point(&self, name: &str) -> Result<usize, Error> {
        self.points.iter().position(|point| point == name).ok_or_else(|| {
            let known = crate::circuit::closest(name, self.points.iter().map(String::as_str));
            TopologyError::UnknownNode { node: name.into(), known }.into()
        })
    }

    /// Where a measurement's probes are.
    pub(super) fn place(&self, measurement: &Measurement) -> Result<Placed, Error> {
        let held_for = |ohm: bool, held: Held| ohm == (held == Held::Isolated);
        let (tool, held) = (measurement.tool, measurement.held);
        if !held_for(tool == Tool::Ohmmeter, held) {
            let allowed = "\"isolated\" for an ohmmeter, and for an ohmmeter only";
            return Err(Error::option("control", &format!("\"{held}\""), allowed));
        }
        let probes = match tool.probes() {
            2 => [self.point(&measurement.plus)?, self.point(&measurement.minus)?],
            1 => {
                let found = self.clamps.iter().position(|part| *part == measurement.plus);
                let allowed = format!("one of {}", self.clamps.join(", "));
                [found.ok_or_else(|| Error::option("plus", &format!("\"{}\"", measurement.plus), &allowed))?, 0]
            }
            _ => [0, 0],
        };
        Ok(Placed { tool, held, probes })
    }
}

/// A measurement with its points by index.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed {
    pub(super) tool: Tool,
    held: Held,
    probes: [usize; 2],
}

/// A drive, healthy or not, in every position of its control.
#[derive(Debug, Clone)]
pub(super) struct Case {
    snapshots: [Snapshot; 4],
}

impl Case {
    pub(super) fn of(drive: &Drive, bench: &Bench) -> Self {
        Self { snapshots: Held::ALL.map(|held| Snapshot::of(drive, held, &bench.points)) }
    }

    fn at(&self, held: Held) -> &Snapshot {
        &self.snapshots[held as usize]
    }

    /// Whether it could be solved in every position of its control.
    pub(super) fn known(&self) -> bool {
        self.snapshots.iter().all(|snapshot| snapshot.behaviour != Behaviour::Unknown)
    }

    /// What the drive does with its control so.
    pub(super) fn behaviour(&self, held: Held) -> Behaviour {
        self.at(held).behaviour
    }

    /// Volts between two points without an instrument.
    pub(super) fn open_volts(&self, placed: &Placed) -> f64 {
        let volts = &self.at(placed.held).volts;
        volts[placed.probes[0]] - volts[placed.probes[1]]
    }

    /// What the instrument shows, as a number to compare; NaN when the case could not be solved.
    pub(super) fn shows(&self, placed: &Placed, bench: &Bench) -> f64 {
        let snapshot = self.at(placed.held);
        if snapshot.behaviour == Behaviour::Unknown {
            return f64::NAN;
        }
        let [plus, minus] = placed.probes;
        let resistance = || snapshot.source_resistance(plus, minus);
        let behind = |meter: Voltmeter| {
            let own = meter.input_resistance.si();
            self.open_volts(placed) * own / (own + resistance())
        };
        match placed.tool {
            Tool::Voltmeter => behind(Voltmeter::default()),
            Tool::LowImpedance => behind(Voltmeter::low_impedance()),
            Tool::TestLamp => {
                let filament = bench.lamp.settled_behind(self.open_volts(placed), resistance());
                match bench.lamp.brightness_at(filament) {
                    Brightness::Dark => 0.0,
                    Brightness::Glow => 1.0,
                    Brightness::Dim => 2.0,
                    Brightness::Bright => 3.0,
                }
            }
            // Its own 2 kohm pull a leak down, as with the meter in the circuit.
            Tool::Ohmmeter if self.open_volts(placed).abs() * OWN / (OWN + resistance()) > LIVE => ohm_scale(f64::NAN),
            Tool::Ohmmeter => ohm_scale(resistance().min(2.0 * OPEN)),
            Tool::Clamp => snapshot.amperes[plus],
            Tool::Listen if snapshot.behaviour == Behaviour::Chatters => 2.0,
            Tool::Listen => f64::from(u8::from(snapshot.pulled != self.at(Held::AtRest).pulled)),
            Tool::WatchMotor if snapshot.speed > SLOW * bench.speeds[0] && snapshot.speed > STANDS => 4.0,
            Tool::WatchMotor if snapshot.speed > STANDS => 3.0,
            Tool::WatchMotor if -snapshot.speed > SLOW * bench.speeds[1] && snapshot.speed < -STANDS => 0.0,
            Tool::WatchMotor if snapshot.speed < -STANDS => 1.0,
            Tool::WatchMotor => 2.0,
            Tool::WatchBreaker => f64::from(u8::from(snapshot.trips)),
        }
    }
}
