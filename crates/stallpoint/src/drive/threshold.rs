//! How bad a joint may get.

use super::control::{Control, Direction};
use super::description::Drive;
use crate::circuit::{OperatingPoint, equilibrium_in_modes};
use crate::error::Error;
use crate::parts::Shaft;
use crate::quantity::Resistance;

/// What gives way first as a joint's resistance grows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum First {
    /// The motor cannot break away.
    Stalls,
    /// The contactor lets go.
    DropsOut,
    /// Neither, up to an open joint.
    Neither,
}

impl std::fmt::Display for First {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.pad(match self {
            Self::Stalls => "stalls",
            Self::DropsOut => "drops out",
            Self::Neither => "neither",
        })
    }
}

/// Resistances of a joint at which a drive fails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StallThreshold {
    /// Total resistance of the joint above which the motor does not break away, ohm.
    pub stalls_at: Option<f64>,
    /// Total resistance of the joint above which the coil's current falls to drop-out under locked-rotor current, ohm.
    pub drops_out_at: Option<f64>,
    /// Which comes first.
    pub which_first: First,
}

/// Resistances searched, ohm, and the relative width at which the search ends.
const SMALLEST: f64 = 1e-7;
const LARGEST: f64 = 1e3;
const WIDTH: f64 = 1e-10;

impl Drive {
    /// The resistances of `joint` at which the motor cannot break away and at which the contactor lets go, with the
    /// contactor held, the shaft at rest, charge and temperatures as described.
    ///
    /// Without other resistances in question, `R_total = (V_oc - V_brush) K_t / T_breakaway`.
    ///
    /// A hydraulic pump counts with the pressure that moves its load, though it builds that up only by turning: what its
    /// leakage costs in speed is left out, so that it stalls at a few per cent less.
    ///
    /// # Errors
    /// No such joint; a drive whose equations have no solution.
    ///
    /// # Example
    /// ```
    /// use stallpoint::drive::{BOAT_LIFT, Direction, Drive};
    ///
    /// let drive = Drive::from_toml_str(BOAT_LIFT)?;
    /// let threshold = drive.stall_threshold("ground_stud_joint", Direction::Forward)?;
    /// assert!(threshold.stalls_at.unwrap() > 0.0);
    /// assert!(threshold.drops_out_at.is_none()); // the coil returns through its own wire
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn stall_threshold(&self, joint: &str, direction: Direction) -> Result<StallThreshold, Error> {
        self.joint(joint)?;
        let breakaway = self.breakaway(direction);
        let drop_out = self.contactor.faulty_drop_out_current(direction == Direction::Forward);
        let coil_current = format!("coil_{}_current", direction.letter());
        // Positive while the drive still works. Friction against a forward drive is positive; a load that pulls the other
        // way is not a drive that breaks away.
        let torque_left = |at: &OperatingPoint| -> Result<f64, Error> {
            Ok(direction.sign() * at.state("motor.shaft", "friction_torque")? - breakaway)
        };
        let hold_left =
            |at: &OperatingPoint| -> Result<f64, Error> { Ok(at.state("contactor", &coil_current)?.abs() - drop_out) };
        let stalls_at = self.root(joint, direction, torque_left)?;
        let drops_out_at = self.root(joint, direction, hold_left)?;
        let which_first = match (stalls_at, drops_out_at) {
            (None, None) => First::Neither,
            (Some(stalls), Some(drops)) if drops < stalls => First::DropsOut,
            (None, Some(_)) => First::DropsOut,
            _ => First::Stalls,
        };
        Ok(StallThreshold { stalls_at, drops_out_at, which_first })
    }

    /// Torque to move the loads in a direction, N·m: the dry friction of motor and loads at rest, and what a pump takes.
    pub(crate) fn breakaway(&self, direction: Direction) -> f64 {
        let way = usize::from(direction == Direction::Reverse);
        let parts = std::iter::once(self.motor.part()).chain(self.load.iter().map(|load| load.part()));
        let dry: f64 = parts.map(|part| part.dry_friction_each_way()[way]).map(|f| f.breakaway.max(f.running)).sum();
        dry + self.faults.binding.si() + self.load.iter().map(|load| load.working_torque()[way]).sum::<f64>()
    }

    /// The drive at locked rotor with the contactor held closed in a direction.
    pub(crate) fn locked_rotor(&self, direction: Direction) -> Result<OperatingPoint, Error> {
        let circuit = self.circuit(&Control::new().call(direction, 0.0, f64::MAX)?)?;
        let modes = [
            ("contactor", self.contactor.sealed_memory(direction == Direction::Forward)),
            ("motor.shaft", crate::circuit::Memory::new(Shaft::STUCK, [])),
        ];
        equilibrium_in_modes(&circuit, &modes)
    }

    /// Steady current of a dead short across the motor studs with the contactor held closed in a direction, A.
    pub(crate) fn stud_short(&self, direction: Direction) -> Result<f64, Error> {
        let mut circuit = self.circuit(&Control::new().call(direction, 0.0, f64::MAX)?)?;
        let short = crate::parts::Resistor { resistance: Resistance::from_si(1e-6) }; // typical, no source
        circuit.add("dead_short", short, [("a", "motor_a_stud"), ("b", "motor_b_stud")])?;
        let modes = [
            ("contactor", self.contactor.sealed_memory(direction == Direction::Forward)),
            ("motor.shaft", crate::circuit::Memory::new(Shaft::STUCK, [])),
        ];
        Ok(equilibrium_in_modes(&circuit, &modes)?.current("breaker")?.abs())
    }

    /// The joint resistance at which `left` falls through zero, by bisection in its logarithm.
    fn root(
        &self,
        joint: &str,
        direction: Direction,
        left: impl Fn(&OperatingPoint) -> Result<f64, Error>,
    ) -> Result<Option<f64>, Error> {
        let at = |resistance: f64| -> Result<f64, Error> {
            let fault = super::Fault::joint(joint, Resistance::from_si(resistance))?;
            left(&self.with_fault(&fault)?.locked_rotor(direction)?)
        };
        let (mut low, mut high) = (SMALLEST, LARGEST);
        if at(high)? > 0.0 {
            return Ok(None);
        }
        if at(low)? <= 0.0 {
            return Ok(Some(0.0)); // it fails with the best of joints
        }
        while high / low - 1.0 > WIDTH {
            let middle = (low * high).sqrt();
            if at(middle)? > 0.0 { low = middle } else { high = middle }
        }
        Ok(Some((low * high).sqrt()))
    }
}
