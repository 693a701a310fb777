//! A device held against a standard's time–current gates.

use std::fmt::{Display, Formatter};

use crate::tables::trip_gates::Gate;

/// An edge of a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The fastest device of its kind: it must hold.
    Fastest,
    /// The slowest device of its kind: it must trip.
    Slowest,
}

/// One requirement of a gate and what the device does.
#[derive(Debug, Clone, PartialEq)]
pub struct GateCheck {
    /// The gate; its status says whether it was read or is from memory.
    pub gate: Gate,
    /// The edge that it binds.
    pub edge: Edge,
    /// Time in which that edge trips, s; none when it never does.
    pub trips_in: Option<f64>,
    /// Whether the device keeps it.
    pub holds: bool,
}

/// Checks each requirement of `gates`, given the trip time from cold at a position and a multiple of the rated current.
pub(super) fn check_gates(gates: &[Gate], time: impl Fn(f64, f64) -> Option<f64>) -> Vec<GateCheck> {
    let mut checks = Vec::new();
    for gate in gates {
        if let Some(at_least) = gate.holds_for {
            let trips_in = time(0.0, gate.multiple);
            let holds = trips_in.is_none_or(|time| time >= at_least);
            checks.push(GateCheck { gate: gate.clone(), edge: Edge::Fastest, trips_in, holds });
        }
        if let Some(at_most) = gate.trips_within {
            let trips_in = time(1.0, gate.multiple);
            let holds = trips_in.is_some_and(|time| time <= at_most);
            checks.push(GateCheck { gate: gate.clone(), edge: Edge::Slowest, trips_in, holds });
        }
    }
    checks
}

impl Display for GateCheck {
    fn fmt(&self, f: &mut Formatter) -> std::fmt::Result {
        let (edge, limit) = match self.edge {
            Edge::Fastest => ("fastest", self.gate.holds_for),
            Edge::Slowest => ("slowest", self.gate.trips_within),
        };
        write!(f, "{}: at {} times the rated current the {edge} device ", self.gate.standard, self.gate.multiple)?;
        match self.trips_in {
            Some(time) => write!(f, "trips in {time:.4} s")?,
            None => write!(f, "never trips")?,
        }
        match (self.edge, limit) {
            (Edge::Fastest, Some(f64::INFINITY)) => write!(f, "; it must never"),
            (Edge::Fastest, Some(limit)) => write!(f, "; it must hold for {limit} s"),
            (Edge::Slowest, Some(limit)) => write!(f, "; it must within {limit} s"),
            (_, None) => Ok(()),
        }
    }
}
