//! Equilibria of a drive some of whose parts are held as they are: at locked rotor, in a dead short.

use super::control::{Control, Direction};
use super::description::Drive;
use crate::circuit::{Circuit, Memory, OperatingPoint, equilibrium_in_modes};
use crate::error::Error;
use crate::parts::{Resistor, Shaft};
use crate::quantity::Resistance;

/// Resistance of a dead short, ohm (typical, no source).
const SHORT: f64 = 1e-6;

impl Drive {
    /// The drive at locked rotor with the contactor held closed in a direction.
    pub(crate) fn locked_rotor(&self, direction: Direction) -> Result<OperatingPoint, Error> {
        let circuit = self.circuit(&Control::new().call(direction, 0.0, f64::MAX)?)?;
        self.held(&circuit, self.stalled_modes(direction))
    }

    /// Steady current of a dead short across the motor studs with the contactor held closed in a direction, A.
    pub(crate) fn stud_short(&self, direction: Direction) -> Result<f64, Error> {
        let circuit = self.circuit(&Control::new().call(direction, 0.0, f64::MAX)?)?;
        self.shorted(circuit, ["motor_a_stud", "motor_b_stud"], self.stalled_modes(direction))
    }

    /// Steady current of a dead short right behind the breaker or fuse, A: what flows until that device, or a battery's own
    /// management, acts.
    pub(crate) fn dead_short(&self) -> Result<f64, Error> {
        let mut drive = self.clone();
        drive.fuse.iter_mut().for_each(|fuse| fuse.spent = false); // it is the next one's to break
        let behind = drive.own_name("breaker_out");
        drive.shorted(drive.circuit(&Control::new())?, [&behind, "battery_negative"], Vec::new())
    }

    fn shorted(&self, mut circuit: Circuit, ends: [&str; 2], modes: Vec<(&str, Memory)>) -> Result<f64, Error> {
        let short = Resistor { resistance: Resistance::from_si(SHORT) };
        circuit.add("dead_short", short, [("a", ends[0]), ("b", ends[1])])?;
        Ok(self.held(&circuit, modes)?.current(self.protection().name())?.abs())
    }

    fn stalled_modes(&self, direction: Direction) -> Vec<(&'static str, Memory)> {
        let contactor = self.contactor.sealed_memory(direction == Direction::Forward);
        vec![("contactor", contactor), ("motor.shaft", Memory::new(Shaft::STUCK, []))]
    }

    /// The equilibrium with parts in given modes, whatever their guards say, but for films: those that break down in it are broken
    /// down.
    fn held<'d>(&'d self, circuit: &Circuit, mut modes: Vec<(&'d str, Memory)>) -> Result<OperatingPoint, Error> {
        loop {
            let at = equilibrium_in_modes(circuit, &modes)?;
            let mut broken = Vec::new();
            for (name, joint) in &self.joints {
                let whole = joint.film.is_some() && modes.iter().all(|(own, _)| own != name);
                if whole && let Some(memory) = joint.broken_down_by(at.current(name)?) {
                    broken.push((name.as_str(), memory));
                }
            }
            if broken.is_empty() {
                return Ok(at);
            }
            modes.extend(broken);
        }
    }
}
