//! A conveyor, a sliding gate: a moving mass with friction, level or on a slope.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, takes_to_start};
use super::transmission::{Efficiencies, Torques};
use super::{G, SHAFT, TERMINALS};
use crate::circuit::{At, DryFriction, Part, Power, Probe, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Angle, Fraction, Inertia, IntoQuantity, Length, Mass};

/// A mass `m` drawn along by a drum or pinion of radius `r` behind a gear of ratio `i`.
///
/// ```text
/// opposes motion:  μ m g cos β · r / i     (at rest μ_0)
/// pulls back:      m g sin β · r / i       on a slope β that forward climbs
/// J = J_motor side + J_drum / i² + m (r / i)²
/// ```
///
/// all through the gear's efficiency: the motor gives `N/η` where the load needs `N`, and gets back `N η_back` where the load
/// drives. Friction and loss go to the shaft's dry friction.
///
/// Probes: `belt_speed` (m/s).
///
/// Limits: the load is all there from the start and does not slip on the belt; the gear's loss does not go with the torque
/// that accelerates.
///
/// Source: statics; standard gravity 9.80665 m/s² (3rd CGPM, 1901). Friction coefficients are the user's.
///
/// # Example
/// ```
/// use stallpoint::circuit::Part;
/// use stallpoint::parts::load::Conveyor;
///
/// let gate = Conveyor::new("80 kg", "50 mm", 20.0, 0.8, 0.15)?;
/// let force = 0.15 * 80.0 * 9.80665;
/// assert!((gate.dry_friction_each_way()[1].running - force * 0.05 / 20.0 / 0.8).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Conveyor {
    /// Mass that moves: load, belt or gate, kg.
    pub mass: Mass,
    /// Radius of the drum or pinion, m.
    pub drum_radius: Length,
    /// Turns of the motor for one turn of the drum.
    pub gear_ratio: Fraction,
    /// Efficiency of the gear, motor driving.
    pub efficiency: Fraction,
    /// Efficiency to start from rest; as `efficiency` when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breakaway_efficiency: Option<Fraction>,
    /// Efficiency while the load drives; `2 - 1/efficiency` when left out, negative for a gear that locks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_driving_efficiency: Option<Fraction>,
    /// Friction force over weight while it moves.
    pub friction_coefficient: Fraction,
    /// Friction force over weight at rest; as `friction_coefficient` when less or left out.
    #[serde(default)]
    pub breakaway_coefficient: Fraction,
    /// Slope that forward climbs, rad; negative when forward goes down.
    #[serde(default)]
    pub slope: Angle,
    /// Inertia of drums and rollers, at the drum, kg·m².
    #[serde(default)]
    pub drum_inertia: Inertia,
    /// Inertia on the motor's side of the gear, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

const PROBES: [Probe; 1] = [Probe { name: "belt_speed", unit: "m/s" }];

impl Conveyor {
    /// A level conveyor by its mass (kg), drum radius (m), gear ratio, efficiency and friction coefficient.
    ///
    /// # Errors
    /// A wrong unit; a value outside its range.
    pub fn new(
        mass: impl IntoQuantity<Mass>,
        drum_radius: impl IntoQuantity<Length>,
        gear_ratio: impl IntoQuantity<Fraction>,
        efficiency: impl IntoQuantity<Fraction>,
        friction_coefficient: impl IntoQuantity<Fraction>,
    ) -> Result<Self, Error> {
        let conveyor = Self {
            mass: crate::parts::quantity("mass", mass)?,
            drum_radius: crate::parts::quantity("drum_radius", drum_radius)?,
            gear_ratio: crate::parts::quantity("gear_ratio", gear_ratio)?,
            efficiency: crate::parts::quantity("efficiency", efficiency)?,
            breakaway_efficiency: None,
            back_driving_efficiency: None,
            friction_coefficient: crate::parts::quantity("friction_coefficient", friction_coefficient)?,
            breakaway_coefficient: Fraction::default(),
            slope: Angle::default(),
            drum_inertia: Inertia::default(),
            inertia: Inertia::default(),
        };
        conveyor.check()?;
        Ok(conveyor)
    }

    /// Metres of belt for one radian of the motor.
    fn travel(&self) -> f64 {
        self.drum_radius.si() / self.gear_ratio.si()
    }

    fn torques(&self) -> Torques {
        let weight = self.mass.si() * G * self.travel();
        let (sine, cosine) = self.slope.si().sin_cos();
        let (running, rest) = (self.friction_coefficient.si(), self.breakaway_coefficient.si());
        Torques {
            active: weight * sine,
            passive: weight * cosine * running,
            passive_breakaway: weight * cosine * rest.max(running),
        }
    }

    /// Whether the load can run down its slope by itself.
    pub fn overhauls(&self) -> bool {
        let torques = self.torques();
        torques.active.abs() > torques.passive_breakaway && self.efficiencies().back().1 > 0.0
    }

    fn efficiencies(&self) -> Efficiencies {
        Efficiencies {
            running: self.efficiency,
            breakaway: self.breakaway_efficiency,
            back: self.back_driving_efficiency,
        }
    }
}

impl AboutLoad for Conveyor {
    fn in_words(&self) -> String {
        format!("conveyor of {}, {}", crate::report::quantity(self.mass.si(), "kg"), takes_to_start(self))
    }

    fn may_run_away(&self) -> bool {
        self.overhauls()
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        vec![("mass", factor * self.mass.si())]
    }
}

impl Part for Conveyor {
    fn kind(&self) -> &'static str {
        "conveyor"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("mass", self.mass)?;
        above_zero("drum_radius", self.drum_radius)?;
        above_zero("gear_ratio", self.gear_ratio)?;
        self.efficiencies().check()?;
        not_negative("friction_coefficient", self.friction_coefficient)?;
        not_negative("breakaway_coefficient", self.breakaway_coefficient)?;
        let steep = std::f64::consts::FRAC_PI_2;
        in_range("slope", self.slope, self.slope.si().abs() < steep, "between -90 deg and 90 deg")?;
        not_negative("drum_inertia", self.drum_inertia)?;
        not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, _at: &At, out: &mut Stamp) {
        out.f(SHAFT, self.torques().active);
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: -self.torques().active * at.x(SHAFT), dissipated: 0.0 } // friction is booked by the shaft
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        self.travel() * at.x(SHAFT)
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
            + self.drum_inertia.si() / self.gear_ratio.si().powi(2)
            + self.mass.si() * self.travel() * self.travel()
    }

    fn dry_friction_each_way(&self) -> [DryFriction; 2] {
        self.efficiencies().friction(self.torques())
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
