//! How bad a joint, a cable, a battery may get.

use super::control::Direction;
use super::description::Drive;
use crate::circuit::OperatingPoint;
use crate::error::Error;
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

/// Values of a parameter at which a drive fails: total resistances of a joint, ohm, or what was asked for, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StallThreshold {
    /// The value beyond which the motor does not break away.
    pub stalls_at: Option<f64>,
    /// The value beyond which the coil's current falls to drop-out under locked-rotor current: the contactor chatters.
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
        let with = |resistance: f64| self.with_fault(&super::Fault::joint(joint, Resistance::from_si(resistance))?);
        // It fails with the best of joints where it fails at the smallest.
        let mut found = self.failing(with, SMALLEST, LARGEST, direction)?;
        for at in [&mut found.stalls_at, &mut found.drops_out_at] {
            *at = at.map(|at| if at == SMALLEST { 0.0 } else { at });
        }
        Ok(found)
    }

    /// The values of any parameter at which the motor cannot break away and at which the contactor lets go, between `good` and
    /// `bad`, in SI: as [`stall_threshold`](Self::stall_threshold), for a cable's length or area, a battery's charge,
    /// resistance or temperature, or whatever else [`with_values`](Self::with_values) can set.
    ///
    /// `key` is the parameter's path in the drive's file ("battery.series_resistance", "supply_cable.length",
    /// "ground_stud_joint.resistance"). Bad may be below good. Found by bisection, in the logarithm where both are above zero.
    ///
    /// Limits: one crossing between good and bad is found; a drive that fails at `good` already has it there.
    ///
    /// # Errors
    /// No such parameter; a value that does not fit it; good and bad that are not two finite numbers.
    ///
    /// # Example
    /// ```
    /// use stallpoint::drive::{BOAT_LIFT, Direction, Drive, First};
    ///
    /// let drive = Drive::from_toml_str(BOAT_LIFT)?;
    /// let worn = drive.stall_threshold_of("battery.series_resistance", 1e-3, 10.0, Direction::Forward)?;
    /// assert!(worn.stalls_at.unwrap() > drive.battery.series_resistance.si());
    /// // A battery's resistance weakens the coils too.
    /// assert!(worn.drops_out_at.is_some());
    /// # Ok::<(), stallpoint::Error>(())
    /// ```
    pub fn stall_threshold_of(
        &self,
        key: &str,
        good: f64,
        bad: f64,
        direction: Direction,
    ) -> Result<StallThreshold, Error> {
        for (argument, value) in [("good", good), ("bad", bad)] {
            if !value.is_finite() {
                return Err(Error::option(argument, &value.to_string(), "a finite number"));
            }
        }
        if good == bad {
            return Err(Error::option("bad", &bad.to_string(), "another value than `good`"));
        }
        self.failing(|value| self.with_values([(key, value)]), good, bad, direction)
    }

    /// The values between good and bad at which the drive stalls, and at which its contactor lets go.
    fn failing(
        &self,
        with: impl Fn(f64) -> Result<Self, Error>,
        good: f64,
        bad: f64,
        direction: Direction,
    ) -> Result<StallThreshold, Error> {
        let coil_current = format!("coil_{}_current", direction.letter());
        // Positive while the drive still works. Friction against a forward drive is positive; a load that pulls the other
        // way is not a drive that breaks away.
        let torque_left = |drive: &Self, at: &OperatingPoint| -> Result<f64, Error> {
            Ok(direction.sign() * at.state("motor.shaft", "friction_torque")? - drive.breakaway(direction))
        };
        let hold_left = |drive: &Self, at: &OperatingPoint| -> Result<f64, Error> {
            Ok(at.state("contactor", &coil_current)?.abs()
                - drive.contactor.faulty_drop_out_current(direction == Direction::Forward))
        };
        let left = |value: f64, what: &dyn Fn(&Self, &OperatingPoint) -> Result<f64, Error>| -> Result<f64, Error> {
            let drive = with(value)?;
            what(&drive, &drive.locked_rotor(direction)?)
        };
        let stalls_at = root(good, bad, |value| left(value, &torque_left))?;
        let drops_out_at = root(good, bad, |value| left(value, &hold_left))?;
        let far = |value: f64| (value - good).abs();
        let which_first = match (stalls_at, drops_out_at) {
            (None, None) => First::Neither,
            (Some(stalls), Some(drops)) if far(drops) < far(stalls) => First::DropsOut,
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
        dry + self.faults.binding.si() + self.load.iter().map(|load| load.about().working_torque()[way]).sum::<f64>()
    }
}

/// The value between good and bad at which `left` falls through zero, by bisection, in the logarithm where both are above zero;
/// none where it stays above, good where it never was.
fn root(good: f64, bad: f64, left: impl Fn(f64) -> Result<f64, Error>) -> Result<Option<f64>, Error> {
    if left(bad)? > 0.0 {
        return Ok(None);
    }
    if left(good)? <= 0.0 {
        return Ok(Some(good));
    }
    let log = good > 0.0 && bad > 0.0;
    let middle = |a: f64, b: f64| if log { (a * b).sqrt() } else { 0.5 * (a + b) };
    let (mut works, mut fails) = (good, bad);
    // Halving a span of any two numbers ends: relative in the logarithm, of the whole span otherwise.
    while (works - fails).abs() > WIDTH * if log { works.min(fails) } else { (good - bad).abs() } {
        let between = middle(works, fails);
        if left(between)? > 0.0 { works = between } else { fails = between }
    }
    Ok(Some(middle(works, fails)))
}
