//! What can be wrong with a reversing contactor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::CoilFaults;
use super::data::{RestPosition, ReversingContactor};
use super::layout::{GROUND_A, GROUND_B, SUPPLY_A, SUPPLY_B};
use crate::error::PartError;
use crate::quantity::Resistance;

/// Faults of a reversing contactor, contact by contact, armature by armature, coil by coil; all healthy by default.
///
/// In a file: `[contactor.faults]`, `supply_a = "welded"`, `ground_b = { pitted = "20 mohm" }`, `armature_a = "stuck_open"`,
/// `coil_b = { open = true }`.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Control, Direction, Drive};
///
/// // Motor A stays on supply: at rest, with motor B on ground, the motor runs on.
/// let welded = Drive::from_toml_str(BOAT_LIFT)?.with_values([("contactor.faults.supply_a", "welded")])?;
/// let run = welded.run(&Control::new(), 0.3)?;
/// assert!(run.state("motor", "speed")?.last().unwrap() > &10.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ContactorFaults {
    /// The contact from supply to motor A.
    #[serde(skip_serializing_if = "ContactFault::is_healthy")]
    pub supply_a: ContactFault,
    /// The contact from ground to motor A.
    #[serde(skip_serializing_if = "ContactFault::is_healthy")]
    pub ground_a: ContactFault,
    /// The contact from supply to motor B.
    #[serde(skip_serializing_if = "ContactFault::is_healthy")]
    pub supply_b: ContactFault,
    /// The contact from ground to motor B.
    #[serde(skip_serializing_if = "ContactFault::is_healthy")]
    pub ground_b: ContactFault,
    /// The armature of coil A.
    #[serde(skip_serializing_if = "ArmatureFault::is_healthy")]
    pub armature_a: ArmatureFault,
    /// The armature of coil B.
    #[serde(skip_serializing_if = "ArmatureFault::is_healthy")]
    pub armature_b: ArmatureFault,
    /// Coil A.
    #[serde(skip_serializing_if = "CoilFaults::is_healthy")]
    pub coil_a: CoilFaults,
    /// Coil B.
    #[serde(skip_serializing_if = "CoilFaults::is_healthy")]
    pub coil_b: CoilFaults,
}

/// What is wrong with one power contact.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ContactFault {
    /// Nothing.
    #[default]
    Healthy,
    /// It never opens. Where both contacts of a motor stud share one moving blade (rest braked), the other one is then never
    /// made.
    Welded,
    /// Burnt: this resistance comes on top, ohm.
    Pitted(Resistance),
    /// It never closes, but its gap is there: an overvoltage can strike an arc across it.
    NotMaking,
    /// It is gone: nothing closes and nothing strikes.
    Missing,
}

/// What is wrong with one armature.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ArmatureFault {
    /// Nothing.
    #[default]
    Healthy,
    /// It stays at rest, whatever its coil does.
    StuckOpen,
    /// It stays sealed, whatever its coil does; an interlock bars the other one.
    StuckClosed,
}

impl ContactFault {
    /// Whether nothing is wrong.
    pub fn is_healthy(&self) -> bool {
        *self == Self::Healthy
    }
}

impl ArmatureFault {
    /// Whether nothing is wrong.
    pub fn is_healthy(&self) -> bool {
        *self == Self::Healthy
    }
}

impl ContactorFaults {
    /// Whether nothing is wrong.
    pub fn is_healthy(&self) -> bool {
        *self == Self::default()
    }

    pub(super) fn contact(&self, contact: usize) -> ContactFault {
        match contact {
            SUPPLY_A => self.supply_a,
            GROUND_A => self.ground_a,
            SUPPLY_B => self.supply_b,
            _ => self.ground_b,
        }
    }

    pub(super) fn armature(&self, armature: usize) -> ArmatureFault {
        if armature == 0 { self.armature_a } else { self.armature_b }
    }

    pub(super) fn coil(&self, armature: usize) -> &CoilFaults {
        if armature == 0 { &self.coil_a } else { &self.coil_b }
    }
}

/// The contact that shares its moving blade where one blade serves both.
fn other_side(contact: usize) -> usize {
    match contact {
        SUPPLY_A => GROUND_A,
        GROUND_A => SUPPLY_A,
        SUPPLY_B => GROUND_B,
        _ => SUPPLY_B,
    }
}

impl ReversingContactor {
    /// Whether a contact stays closed for good.
    pub(super) fn is_welded(&self, contact: usize) -> bool {
        self.faults.contact(contact) == ContactFault::Welded
    }

    /// Whether a contact closes when its armature would have it closed.
    pub(super) fn can_close(&self, contact: usize) -> bool {
        let own = match self.faults.contact(contact) {
            ContactFault::Healthy | ContactFault::Welded | ContactFault::Pitted(_) => true,
            ContactFault::NotMaking | ContactFault::Missing => false,
        };
        let blade_held = self.rest == RestPosition::Braked && self.is_welded(other_side(contact));
        own && !blade_held
    }

    pub(super) fn check_faults(&self) -> Result<(), PartError> {
        for (name, contact) in
            [("supply_a", SUPPLY_A), ("ground_a", GROUND_A), ("supply_b", SUPPLY_B), ("ground_b", GROUND_B)]
        {
            if let ContactFault::Pitted(resistance) = self.faults.contact(contact) {
                super::super::not_negative(&format!("faults.{name}.pitted"), resistance)?;
            }
            if self.rest == RestPosition::Braked && self.is_welded(contact) && self.is_welded(other_side(contact)) {
                return Err(PartError::Description {
                    problem: format!("`faults.{name}` and the contact on the other side of its blade are both welded"),
                    advice: "a blade welds to one side: leave one of them out".into(),
                });
            }
        }
        if !self.coil.faults.is_healthy() {
            return Err(PartError::Description {
                problem: "`coil.faults` is given, but a contactor has two coils".into(),
                advice: "put it into `faults.coil_a` or `faults.coil_b`".into(),
            });
        }
        self.faults.coil_a.check("faults.coil_a", &self.coil.suppression)?;
        self.faults.coil_b.check("faults.coil_b", &self.coil.suppression)
    }
}
