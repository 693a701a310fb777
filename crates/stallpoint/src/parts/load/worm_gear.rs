//! A worm gear that cannot be driven back.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about::{AboutLoad, takes_to_start};
use super::transmission::{Efficiencies, Torques};
use super::{SHAFT, TERMINALS};
use crate::circuit::{At, DryFriction, Part, Power, Probe, Stamp, Terminal};
use crate::error::{Error, PartError};
use crate::quantity::{Fraction, Inertia, IntoQuantity, Torque};

/// A self-locking worm gear with a load on its output: it holds any load at rest, and lowering it takes torque too.
///
/// ```text
/// T = T_hanging / i through a lossless gear;   raising needs T / η
/// lowering needs T (1/η - 2) from the motor: nothing at η = 1/2, more the worse the gear
/// a resisting torque T_r needs T_r / (i η) both ways
/// ```
///
/// The gear's loss goes to the shaft's dry friction, forward and backward by their own amounts. Above η = 1/2 while turning
/// (it is less at rest) the load helps the motor down, but does not start by itself.
///
/// Probes: `output_speed` (rad/s).
///
/// Limits: the loss goes with the load's torque, not with the torque that accelerates it; no change of efficiency with speed
/// and temperature; vibration, which lets real worm gears creep, is not modelled. A gear that can be driven back is a
/// [`Hoist`](super::Hoist).
///
/// Source: friction on a screw of small lead angle (`η = λ/(λ+ρ)`, back `(λ-ρ)/λ = 2 - 1/η`), any textbook of machine
/// elements.
///
/// # Example
/// ```
/// use stallpoint::circuit::Part;
/// use stallpoint::parts::load::WormGear;
///
/// let gear = WormGear::new(40.0, 0.4, "60 N m")?; // 1.5 N m at the motor if there were no loss
/// let [raise, lower] = gear.dry_friction_each_way();
/// assert!((1.5 + raise.running - 3.75).abs() < 1e-12); // 1.5 / 0.4
/// assert!((lower.running - 1.5 - 0.75).abs() < 1e-12); // 1.5 (1/0.4 - 2)
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WormGear {
    /// Turns of the motor for one turn of the output.
    pub ratio: Fraction,
    /// Efficiency while turning, motor driving.
    pub efficiency: Fraction,
    /// Efficiency to start from rest, at most 1/2; the smaller of `efficiency` and 1/2 when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breakaway_efficiency: Option<Fraction>,
    /// Torque of a hanging load at the output, N·m, positive against forward.
    #[serde(default)]
    pub hanging_torque: Torque,
    /// Torque at the output that opposes motion, N·m.
    #[serde(default)]
    pub resisting_torque: Torque,
    /// Inertia at the output, kg·m².
    #[serde(default)]
    pub output_inertia: Inertia,
    /// Inertia on the motor's side, kg·m².
    #[serde(default)]
    pub inertia: Inertia,
}

/// Efficiency at rest above which a gear can be driven back: `2 - 1/η = 0`.
const LOCKS: f64 = 0.5;
const PROBES: [Probe; 1] = [Probe { name: "output_speed", unit: "rad/s" }];

impl WormGear {
    /// A worm gear by its ratio, efficiency, and hanging torque at the output (N·m, or a text with a unit).
    ///
    /// # Errors
    /// A wrong unit; a ratio that is not above zero; an efficiency outside 0 to 1.
    pub fn new(
        ratio: impl IntoQuantity<Fraction>,
        efficiency: impl IntoQuantity<Fraction>,
        hanging_torque: impl IntoQuantity<Torque>,
    ) -> Result<Self, Error> {
        let gear = Self {
            ratio: crate::parts::quantity("ratio", ratio)?,
            efficiency: crate::parts::quantity("efficiency", efficiency)?,
            breakaway_efficiency: None,
            hanging_torque: crate::parts::quantity("hanging_torque", hanging_torque)?,
            resisting_torque: Torque::default(),
            output_inertia: Inertia::default(),
            inertia: Inertia::default(),
        };
        gear.check()?;
        Ok(gear)
    }

    /// Torque of the hanging load at the motor's shaft through a lossless gear, N·m.
    fn active(&self) -> f64 {
        self.hanging_torque.si() / self.ratio.si()
    }

    fn efficiencies(&self) -> Efficiencies {
        let rest = self.breakaway_efficiency.map_or(self.efficiency.si().min(LOCKS), |given| given.si());
        Efficiencies { running: self.efficiency, breakaway: Some(Fraction::from_si(rest)), back: None }
    }
}

impl AboutLoad for WormGear {
    fn in_words(&self) -> String {
        format!("worm gear that cannot be driven back, {}", takes_to_start(self))
    }

    fn heavier(&self, factor: f64) -> Vec<(&'static str, f64)> {
        let fields = [("hanging_torque", self.hanging_torque), ("resisting_torque", self.resisting_torque)];
        fields.map(|(name, own)| (name, factor * own.si())).into()
    }
}

impl Part for WormGear {
    fn kind(&self) -> &'static str {
        "worm gear"
    }

    fn terminals(&self) -> &[Terminal] {
        &TERMINALS
    }

    fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range, not_negative};
        above_zero("ratio", self.ratio)?;
        self.efficiencies().check()?;
        if let Some(rest) = self.breakaway_efficiency {
            let allowed = "at most 0.5: above it a gear can be driven back, describe it as a hoist";
            in_range("breakaway_efficiency", rest, rest.si() <= LOCKS, allowed)?;
        }
        in_range("hanging_torque", self.hanging_torque, true, "a finite number")?;
        not_negative("resisting_torque", self.resisting_torque)?;
        not_negative("output_inertia", self.output_inertia)?;
        not_negative("inertia", self.inertia)
    }

    fn evaluate(&self, _at: &At, out: &mut Stamp) {
        out.f(SHAFT, self.active());
    }

    fn power(&self, at: &At) -> Power {
        Power { delivered: -self.active() * at.x(SHAFT), dissipated: 0.0 } // losses are booked by the shaft
    }

    fn probes(&self) -> &[Probe] {
        &PROBES
    }

    fn probe(&self, _index: usize, at: &At) -> f64 {
        at.x(SHAFT) / self.ratio.si()
    }

    fn inertia(&self) -> f64 {
        self.inertia.si() + self.output_inertia.si() / self.ratio.si().powi(2)
    }

    fn dry_friction_each_way(&self) -> [DryFriction; 2] {
        let passive = self.resisting_torque.si() / self.ratio.si();
        let torques = Torques { active: self.active(), passive, passive_breakaway: passive };
        self.efficiencies().friction(torques)
    }

    fn boxed(&self) -> Box<dyn Part> {
        Box::new(self.clone())
    }
}
