//! What may be wrong with a drive between its parts: wires swapped, broken, chafed, and a load that binds.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Resistance, Torque};

/// What is wrong with a drive outside its parts; nothing by default. Parts have faults of their own.
///
/// `series` adds a resistance in a conductor or a device, at its far end (seen from the battery or the switch):
/// [`SERIES`] lists the names. A broken one leaks through 1 GΩ. `bridges` join two points of the drive through a resistance:
/// a wire chafed to the case, a wet path, a winding to its case, a switch stuck closed.
///
/// With swapped wires a lug keeps the name of its conductor: with `motor_wires_swapped` the joint `motor_a_stud_joint` lies
/// between `motor_a_stud` and `motor_b_stud_lug`.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Direction, Drive};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?;
/// let floating = drive.with_values([("faults.series.coil_return_wire", "1 Gohm")])?;
/// let op = floating.operating_point(Some(Direction::Forward), &Default::default())?;
/// // Fed back through both coils: the other coil's terminal is live too.
/// assert!(op.voltage("coil_b")? > 12.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Alterations {
    /// The two cables at the battery's posts.
    #[serde(skip_serializing_if = "is_false")]
    pub battery_reversed: bool,
    /// The supply and the ground cable on each other's stud of the contactor.
    #[serde(skip_serializing_if = "is_false")]
    pub supply_and_ground_swapped: bool,
    /// The two motor leads on each other's stud of the contactor.
    #[serde(skip_serializing_if = "is_false")]
    pub motor_wires_swapped: bool,
    /// The two signal wires on each other's coil.
    #[serde(skip_serializing_if = "is_false")]
    pub signal_wires_swapped: bool,
    /// Added resistance by conductor or device, ohm.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub series: BTreeMap<String, Resistance>,
    /// Paths that should not be there, by a name of their own.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub bridges: BTreeMap<String, Bridge>,
    /// Dry friction on the shaft beyond what the loads have, N·m: a bent guide, rope over rope, a jam.
    #[serde(skip_serializing_if = "is_zero")]
    pub binding: Torque,
}

/// A path between two points of a drive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bridge {
    /// One point.
    pub from: String,
    /// The other.
    pub to: String,
    /// Resistance between them, ohm, above zero.
    pub resistance: Resistance,
}

fn is_false(value: &bool) -> bool {
    !*value
}

fn is_zero(torque: &Torque) -> bool {
    torque.si() == 0.0
}

/// Conductors and devices that may have a resistance in series. `coil_a_terminal` is the end of signal wire A at its coil;
/// with a resistance there, the wire's end is a point of its own, `coil_a_lug`.
pub const SERIES: [&str; 18] = [
    "battery_lead",
    "isolator",
    "isolator_lead",
    "breaker",
    "fuse",
    "supply_cable",
    "motor_lead_a",
    "motor_lead_b",
    "ground_cable",
    "field_lead",
    "control_supply_wire",
    "control_switch_a",
    "control_switch_b",
    "signal_wire_a",
    "signal_wire_b",
    "coil_a_terminal",
    "coil_b_terminal",
    "coil_return_wire",
];

impl Alterations {
    /// Whether nothing is wrong.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }

    pub(super) fn check(&self) -> Result<(), PartError> {
        for (name, resistance) in &self.series {
            if !SERIES.contains(&name.as_str()) {
                return Err(PartError::range("series", name, &format!("one of {}", SERIES.join(", "))));
            }
            crate::parts::above_zero(name, *resistance)?;
        }
        for bridge in self.bridges.values() {
            crate::parts::above_zero("bridges.resistance", bridge.resistance)?;
            if bridge.from == bridge.to {
                return Err(PartError::range("bridges.to", &bridge.to, "another point than `from`"));
            }
        }
        crate::parts::not_negative("binding", self.binding)
    }

    /// Which point's stud the lug `point` is on: another one when the pair is swapped.
    pub(super) fn lug_on<'p>(&self, point: &'p str) -> &'p str {
        match point {
            "supply_stud" if self.supply_and_ground_swapped => "ground_stud",
            "ground_stud" if self.supply_and_ground_swapped => "supply_stud",
            "motor_a_stud" if self.motor_wires_swapped => "motor_b_stud",
            "motor_b_stud" if self.motor_wires_swapped => "motor_a_stud",
            _ => point,
        }
    }
}
