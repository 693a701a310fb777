//! A mass on a rope: hoist, winch, crane.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, takes_to_start};
use super::transmission::{Efficiencies, Torques};
use super::{G, SHAFT, TERMINALS, one, yes};
use crate::circuit::{At, DryFriction, Part, Power, Probe, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, Inertia, IntoQuantity, Length, Mass};

/// A mass on a rope, wound on a drum behind a gear.
///
/// ```text
/// T = m g r / (i n)                   torque at the motor's shaft through a lossless gear
/// raising needs T / η;  lowering gives back T η_back, or needs driving when that is negative
/// J = J_motor side + J_drum / i² + m (r / (i n))²
/// ```
///
/// with drum radius `r`, gear ratio `i` and `n` falls of rope. The loss `T (1/η - 1)` raising and `T (1 - η_back)` lowering
/// goes to the shaft's dry friction. With `η_back` above zero the load overhauls: it runs down by itself when the motor lets
/// go, and drives the motor as a generator when lowered.
///
/// Probes: `load_speed` (m/s, upward positive).
///
/// Limits: the loss goes with the load's weight, not with the torque that accelerates it; the rope never goes slack and does
/// not stretch; the radius does not grow with the layers; no height: add an [`EndStop`](super::EndStop) for the ends.
///
/// Source: statics; standard gravity 9.80665 m/s² (3rd CGPM, 1901); `η_back = 2 - 1/η` is the friction screw of small lead
/// angle in any textbook of machine elements.
///
/// # Example
/// ```
/// use stallpoint::circuit::Part;
/// use stallpoint::parts::load::Hoist;
///
/// let hoist = Hoist::new("120 kg", "40 mm", 30.0, 0.7)?;
/// let torque = 120.0 * 9.80665 * 0.04 / 30.0;
/// assert!((hoist.torque() - torque).abs() < 1e-12);
/// assert!((hoist.dry_friction_each_way()[0].running - torque * (1.0 / 0.7 - 1.0)).abs() < 1e-12);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Hoist {
    /// Mass that hangs on the rope, kg.
    pub mass: Mass,
    /// Radius of the drum to the middle of the rope, m.
    pub drum_radius: Length,
    /// Turns of the motor for one turn of the drum.
    pub gear_ratio: Fraction,
    /// Falls of rope that carry the load.
    #[serde(default = "one")]
    pub falls: Fraction,
    /// Efficiency of gear, drum and rope while raising.
    pub efficiency: Fraction,
    /// Efficiency to start raising from rest; as `efficiency` when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breakaway_efficiency: Option<Fraction>,
    /// Efficiency while the load drives; `2 - 1/efficiency` when left out, negative for a gear that locks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_driving_efficiency: Option<Fraction>,
    /// Inertia of the drum, at the drum, kg·m².
    #[serde(default)]
    pub drum_inertia: Inertia,
    /// Whether forward raises; else backward does.
    #[serde(default = "yes")]
    pub forward_raises: bool,
    /// Inertia on the motor's side of the gear, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

const PROBES: [Probe; 1] = [Probe { name: "load_speed", unit: "m/s" }];

impl Hoist {
    /// A hoist by its mass (kg), drum radius (m), gear ratio and efficiency, or texts with units.
    ///
    /// # Errors
    /// A wrong unit; a mass that is negative, a radius or ratio that is not above zero, an efficiency outside 0 to 1.
    pub fn new(
        mass: impl IntoQuantity<Mass>,
        drum_radius: impl IntoQuantity<Length>,
        gear_ratio: impl IntoQuantity<Fraction>,
        efficiency: impl IntoQuantity<Fraction>,
    ) -> Result<Self, Error> {
        let hoist = Self {
            mass: crate::parts::quantity("mass", mass)?,
            drum_radius: crate::parts::quantity("drum_radius", drum_radius)?,
            gear_ratio: crate::parts::quantity("gear_ratio", gear_ratio)?,
            falls: one(),
            efficiency: crate::parts::quantity("efficiency", efficiency)?,
            breakaway_efficiency: None,
            back_driving_efficiency: None,
            drum_inertia: Inertia::default(),
            forward_raises: true,
            inertia: Inertia::default(),
        };
        hoist.check()?;
        Ok(hoist)
    }

    /// Metres of lift for one radian of the motor, upward positive.
    fn lift(&self) -> f64 {
        let way = if self.forward_raises { 1.0 } else { -1.0 };
        way * self.drum_radius.si() / (self.gear_ratio.si() * self.falls.si())
    }

    /// Torque of the weight at the motor's shaft through a lossless gear, N·m, positive against forward.
    pub fn torque(&self) -> f64 {
        self.mass.si() * G * self.lift()
    }

    /// Whether the load runs down by itself when nothing but the gear holds it.
    pub fn overhauls(&self) -> bool {
        self.efficiencies().back().1 > 0.0
    }

    fn efficiencies(&self) -> Efficiencies {
        Efficiencies {
            running: self.efficiency,
            breakaway: self.breakaway_efficiency,
            back: self.back_driving_efficiency,
        }
    }
}

impl AboutLoad for Hoist {
    fn in_words(&self) -> String {
        format!("hoist with {}, {}", crate::report::quantity(self.mass.si(), "kg"), takes_to_start(self))
    }

    fn may_run_away(&self) -> bool {
        self.overhauls()
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        vec![("mass", factor * self.mass.si())]
    }
}

impl Part for Hoist {
    fn kind(&self) -> &'static str {
        "hoist"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, not_negative};
        not_negative("mass", self.mass)?;
        above_zero("drum_radius", self.drum_radius)?;
        above_zero("gear_ratio", self.gear_ratio)?;
        above_zero("falls", self.falls)?;
        not_negative("drum_inertia", self.drum_inertia)?;
        not_negative("inertia", self.inertia)?;
        self.efficiencies().check()
    }

    fn evaluate(&self, _at: &At, out: &mut Stamp) {
        out.f(SHAFT, self.torque());
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: -self.torque() * at.x(SHAFT), dissipated: 0.0 } // the gear's loss is booked by the shaft
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        self.lift() * at.x(SHAFT)
    }

    fn inertia(&self) -> f64 {
        self.inertia.si()
            + self.drum_inertia.si() / self.gear_ratio.si().powi(2)
            + self.mass.si() * self.lift() * self.lift()
    }

    fn dry_friction_each_way(&self) -> [DryFriction; 2] {
        let torques = Torques { active: self.torque(), passive: 0.0, passive_breakaway: 0.0 };
        self.efficiencies().friction(torques)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
