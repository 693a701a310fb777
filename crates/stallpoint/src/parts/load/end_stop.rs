//! A mechanical stop at the end of travel.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::AboutLoad;
use super::{SHAFT, TERMINALS};
use crate::circuit::{At, Change, Memory, Pace, Part, Power, Stamp, Terminal, Trigger, Unknown};
use crate::error::{Error, PartError};
use crate::quantity::{Angle, AngularDamping, AngularStiffness, IntoQuantity};

/// Stops at shaft angles: a stiff spring with a damper that only pushes.
///
/// ```text
/// dφ/dt = ω;  touching, with p the angle beyond the stop:  T = k p + c dp/dt  while that is positive
/// ```
///
/// Contact begins when the angle reaches the stop and ends when its torque would pull; both are located events. The energy
/// still in the spring then is lost in the damper at that instant. Without damping the shaft rebounds with all its speed;
/// its dry friction may hold it on the wound-up spring.
///
/// States: `angle` (rad), `compression` (rad beyond the stop). Events: "reaches the forward stop", "leaves the forward stop",
/// and the same backward. An operating point holds the angle as it starts, off the stops.
///
/// Limits: lumped at the motor's shaft, so the stiffness is that of the stop and everything between over the square of the
/// gear ratio; no limit switch.
///
/// Source: Kelvin–Voigt contact, any textbook of mechanics. Default stiffness 50 N·m/rad at the motor (typical, no source).
///
/// # Example
/// ```
/// use stallpoint::parts::load::EndStop;
///
/// let top = EndStop::new("90 rad", "200 N m/rad")?;
/// assert_eq!(top.forward.unwrap().si(), 90.0);
/// assert!(top.backward.is_none());
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EndStop {
    /// Angle at which forward motion is stopped, rad; no stop when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub forward: Option<Angle>,
    /// Angle at which backward motion is stopped, rad; no stop when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backward: Option<Angle>,
    /// Angle at the start, rad.
    #[serde(default)]
    pub angle: Angle,
    /// Stiffness, N·m/rad.
    #[serde(default = "stiffness")]
    pub stiffness: AngularStiffness,
    /// Damping while touching, N·m·s/rad.
    #[serde(default)]
    pub damping: AngularDamping,
}

fn stiffness() -> AngularStiffness {
    AngularStiffness::from_si(50.0) // typical, no source
}

const ANGLE: usize = 1;
const COMPRESSION: usize = 2;

const FREE: u32 = 0;
/// Touching, by side: forward, backward.
const TOUCHING: [u32; 2] = [1, 2];
/// Off the spring but not yet out of its reach.
const LEAVING: [u32; 2] = [3, 4];
const SIDES: [(&str, f64); 2] = [("forward", 1.0), ("backward", -1.0)];

impl EndStop {
    /// A stop at a forward angle (rad) of a stiffness (N·m/rad), or texts with units.
    ///
    /// # Errors
    /// A wrong unit; a stop that is not beyond the start; a stiffness that is not above zero.
    pub fn new(
        forward: impl IntoQuantity<Angle>,
        stiffness: impl IntoQuantity<AngularStiffness>,
    ) -> Result<Self, Error> {
        let stop = Self {
            forward: Some(crate::parts::quantity("forward", forward)?),
            backward: None,
            angle: Angle::default(),
            stiffness: crate::parts::quantity("stiffness", stiffness)?,
            damping: AngularDamping::default(),
        };
        stop.check()?;
        Ok(stop)
    }

    fn stop(&self, side: usize) -> Option<f64> {
        [self.forward, self.backward][side].map(|angle| angle.si())
    }

    /// Angle beyond the stop of a side.
    fn beyond(&self, side: usize, at: &At) -> f64 {
        self.stop(side).map_or(-1.0, |stop| SIDES[side].1 * (at.x(ANGLE) - stop))
    }

    /// Torque of the spring and damper on a side at a compression, against going further.
    fn push(&self, side: usize, compression: f64, at: &At) -> f64 {
        self.stiffness.si() * compression + self.damping.si() * SIDES[side].1 * at.x(SHAFT)
    }

    fn touching(memory: &Memory) -> Option<usize> {
        TOUCHING.iter().position(|&mode| mode == memory.mode)
    }

    fn leaving(memory: &Memory) -> Option<usize> {
        LEAVING.iter().position(|&mode| mode == memory.mode)
    }
}

impl AboutLoad for EndStop {
    fn in_words(&self) -> String {
        let at = |angle: Option<Angle>| angle.map_or("none".into(), |angle| crate::report::quantity(angle.si(), "rad"));
        format!("end stops at the motor: forward {}, backward {}", at(self.forward), at(self.backward))
    }
}

impl Part for EndStop {
    fn kind(&self) -> &'static str {
        "end stop"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        in_range("angle", self.angle, true, "a finite number")?;
        for (side, (argument, way)) in SIDES.iter().enumerate() {
            let Some(stop) = self.stop(side) else { continue };
            let allowed = format!("{argument} of the angle at the start, {}", self.angle);
            in_range(argument, Angle::from_si(stop), way * (stop - self.angle.si()) > 0.0, &allowed)?;
        }
        if self.forward.is_none() && self.backward.is_none() {
            return Err(PartError::Description {
                problem: "the end stop has no stop".into(),
                advice: "give `forward`, `backward` or both".into(),
            });
        }
        above_zero("stiffness", self.stiffness)?;
        not_negative("damping", self.damping)
    }

    fn unknowns(&self) -> Vec<Unknown> {
        let angle =
            Unknown { name: "angle", unit: "rad", nominal: 1.0, initial: self.angle.si(), pace: Pace::Accumulator };
        // Small, so that the stop's torque is not lost in the tolerance of a large angle.
        let compression =
            Unknown { name: "compression", unit: "rad", nominal: 0.01, initial: 0.0, pace: Pace::Accumulator };
        vec![angle, compression]
    }

    fn memory(&self) -> Memory {
        Memory::new(FREE, [])
    }

    fn evaluate(&self, at: &At, out: &mut Stamp) {
        out.q(ANGLE, at.x(ANGLE));
        out.dq(ANGLE, ANGLE, 1.0);
        out.f(ANGLE, -at.x(SHAFT));
        out.df(ANGLE, SHAFT, -1.0);

        let (way, k, c) = match Self::touching(at.memory) {
            Some(side) => (SIDES[side].1, self.stiffness.si(), self.damping.si()),
            None => (0.0, 0.0, 0.0),
        };
        out.q(COMPRESSION, at.x(COMPRESSION));
        out.dq(COMPRESSION, COMPRESSION, 1.0);
        out.f(COMPRESSION, -way * at.x(SHAFT));
        out.df(COMPRESSION, SHAFT, -way);

        out.f(SHAFT, way * k * at.x(COMPRESSION) + c * at.x(SHAFT));
        out.df(SHAFT, COMPRESSION, way * k);
        out.df(SHAFT, SHAFT, c);
    }

    fn guards(&self) -> &[&'static str] {
        &["reaches the forward stop", "reaches the backward stop", "leaves the stop", "is clear of the stop"]
    }

    fn guard_values(&self, at: &At, out: &mut [f64]) {
        out.fill(-1.0);
        if let Some(side) = Self::touching(at.memory) {
            // Also of the speed, or rounding at the first touch would count as leaving.
            out[2] = (-self.push(side, at.x(COMPRESSION), at)).min(-SIDES[side].1 * at.x(SHAFT));
        } else if let Some(side) = Self::leaving(at.memory) {
            let beyond = self.beyond(side, at);
            out[side] = self.push(side, beyond, at).min(SIDES[side].1 * at.x(SHAFT));
            out[3] = -beyond;
        } else {
            for side in 0..2 {
                out[side] = self.beyond(side, at);
            }
        }
    }

    fn change(&self, trigger: Trigger, at: &At, change: &mut Change) {
        let touching = Self::touching(at.memory);
        match trigger {
            Trigger::Guard(side @ (0 | 1)) if touching.is_none() => {
                change.reset(COMPRESSION, self.beyond(side, at).max(0.0));
                change.memory.mode = TOUCHING[side];
                change.event(format!("reaches the {} stop", SIDES[side].0));
            }
            Trigger::Guard(2) => {
                let Some(side) = touching else { return };
                change.reset(COMPRESSION, 0.0);
                change.memory.mode = LEAVING[side];
                change.event(format!("leaves the {} stop", SIDES[side].0));
            }
            Trigger::Guard(3) if touching.is_none() => change.memory.mode = FREE,
            _ => {}
        }
    }

    fn power(&self, at: &At) -> Power {
        let c = Self::touching(at.memory).map_or(0.0, |_| self.damping.si());
        Power { delivered: 0.0, dissipated: c * at.x(SHAFT) * at.x(SHAFT) }
    }

    fn stored(&self, at: &At) -> f64 {
        let k = Self::touching(at.memory).map_or(0.0, |_| self.stiffness.si());
        0.5 * k * at.x(COMPRESSION) * at.x(COMPRESSION)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
