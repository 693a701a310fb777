//! A drive in one position of its control: all that instruments could find there.

use super::position::Held;
use crate::circuit::{Circuit, OperatingPoint, Ports, TransientOptions};
use crate::drive::Drive;
use crate::error::Error;

/// What the drive does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Behaviour {
    /// All settles.
    Steady,
    /// The contactor chatters: meters show a mean.
    Chatters,
    /// The equations could not be solved.
    Unknown,
}

/// Volts, source resistances and currents of a drive in one position of its control.
#[derive(Debug, Clone)]
pub(super) struct Snapshot {
    /// To battery negative, by point.
    pub(super) volts: Vec<f64>,
    ports: Option<Ports>,
    /// By clamp.
    pub(super) amperes: Vec<f64>,
    /// Whether armature A, B is sealed.
    pub(super) pulled: [bool; 2],
    /// rad/s.
    pub(super) speed: f64,
    /// Whether the breaker opens within [`WATCHED`] seconds of holding.
    pub(super) trips: bool,
    pub(super) behaviour: Behaviour,
}

/// Parts round which a clamp goes, in a drive with a breaker.
pub(super) const CLAMPS: [&str; 5] =
    ["breaker", "motor_lead_a", "ground_cable", "coil_return_wire", "control_supply_wire"];

/// Parts of a drive round which a clamp goes.
pub(super) fn clamps(drive: &Drive) -> [String; CLAMPS.len()] {
    CLAMPS.map(|part| drive.own_name(part))
}

/// How long somebody holds the control and watches the breaker, s (typical, no source).
const WATCHED: f64 = 20.0;
/// Over what a meter averages while a contactor chatters, s (typical, no source): from the first to the second.
const MEAN: [f64; 2] = [0.05, 0.2];
const SAMPLES: usize = 300;

/// Points of a drive at which a probe may be put: all nodes of its loop, and the ends of the signal wires.
pub(super) fn points(drive: &Drive) -> Result<Vec<String>, Error> {
    let circuit = drive.circuit(&Held::AtRest.control()?)?;
    let electrical = circuit.electrical_nodes();
    Ok(electrical.into_iter().map(String::from).chain(LUGS.map(|(lug, _)| lug.to_string())).collect())
}

/// Ends of the signal wires, and where they are while they are on their coils.
const LUGS: [(&str, &str); 2] = [("coil_a_lug", "coil_a"), ("coil_b_lug", "coil_b")];

impl Snapshot {
    /// The drive with its control held.
    pub(super) fn of(drive: &Drive, held: Held, points: &[String]) -> Self {
        let circuit = held.control().and_then(|control| held.drive(drive).circuit(&control));
        let Ok(circuit) = circuit else { return Self::unknown(points.len()) };
        let nodes = nodes(&circuit, points);
        let found = match circuit.operating_point() {
            Ok(op) => Self::steady(drive, &op, &nodes),
            Err(Error::NoEquilibrium { .. }) => Self::chattering(drive, &circuit, &nodes),
            Err(error) => Err(error),
        };
        found.unwrap_or_else(|_| Self::unknown(points.len()))
    }

    /// Resistance that an instrument between two points sees, ohm.
    pub(super) fn source_resistance(&self, plus: usize, minus: usize) -> f64 {
        self.ports.as_ref().map_or(0.0, |ports| ports.between(plus, minus))
    }

    fn steady(drive: &Drive, op: &OperatingPoint, nodes: &[Option<&str>]) -> Result<Self, Error> {
        let volts = nodes.iter().map(|node| node.map_or(Ok(0.0), |node| op.voltage(node)));
        let amperes: Vec<f64> = clamps(drive).iter().map(|part| op.current(part)).collect::<Result<_, _>>()?;
        let sealed =
            |letter: char| Ok::<_, Error>(op.state("contactor", &format!("armature_{letter}_position"))? > 0.5);
        let device = drive.protection();
        let trip = device.trip_time(device.band_position(), amperes[0]);
        Ok(Self {
            volts: volts.collect::<Result<_, _>>()?,
            ports: Some(op.ports(nodes)?),
            pulled: [sealed('a')?, sealed('b')?],
            speed: op.state("motor", "speed")?,
            trips: trip.is_some_and(|time| time < WATCHED),
            amperes,
            behaviour: Behaviour::Steady,
        })
    }

    /// Means over a while of chattering.
    fn chattering(drive: &Drive, circuit: &Circuit, nodes: &[Option<&str>]) -> Result<Self, Error> {
        let options = TransientOptions { energy: false, rtol: 1e-3, ..TransientOptions::default() };
        let run = circuit.transient(MEAN[1], &options)?;
        let times: Vec<f64> =
            (0..SAMPLES).map(|k| MEAN[0] + (MEAN[1] - MEAN[0]) * (k as f64 + 0.5) / SAMPLES as f64).collect();
        let sampled = run.sample(&times)?;
        let mean = |values: Vec<f64>| values.iter().sum::<f64>() / SAMPLES as f64;
        let volts = nodes.iter().map(|node| node.map_or(Ok(0.0), |node| sampled.voltage(node).map(mean)));
        let amperes: Vec<f64> =
            clamps(drive).iter().map(|part| sampled.current(part).map(mean)).collect::<Result<_, _>>()?;
        let device = drive.protection();
        let trip = device.trip_time(device.band_position(), amperes[0]);
        let worked = run.events.iter().filter(|event| event.part == "contactor" && event.what.contains("drops out"));
        let behaviour = if worked.count() > 1 { Behaviour::Chatters } else { Behaviour::Steady };
        Ok(Self {
            volts: volts.collect::<Result<_, _>>()?,
            ports: None,
            pulled: [false; 2],
            speed: mean(sampled.state("motor", "speed")?),
            trips: trip.is_some_and(|time| time < WATCHED),
            amperes,
            behaviour,
        })
    }

    fn unknown(points: usize) -> Self {
        Self {
            volts: vec![f64::NAN; points],
            ports: None,
            amperes: vec![f64::NAN; CLAMPS.len()],
            pulled: [false; 2],
            speed: f64::NAN,
            trips: false,
            behaviour: Behaviour::Unknown,
        }
    }
}

/// The circuit's node of each point; none for the reference.
fn nodes<'p>(circuit: &Circuit, points: &'p [String]) -> Vec<Option<&'p str>> {
    let known = circuit.node_names();
    let node = |point: &'p String| {
        let point = point.as_str();
        let on = LUGS.iter().find(|(lug, _)| *lug == point && !known.contains(lug)).map_or(point, |(_, coil)| coil);
        (on != circuit.reference()).then_some(on)
    };
    points.iter().map(node).collect()
}
