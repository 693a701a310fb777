//! A reversing drive as its file describes it.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::alterations::Alterations;
use super::limits::Limits;
use crate::circuit::Part;
use crate::error::{Error, PartError};
use crate::parts::load::Load;
use crate::parts::motor::{FieldPlace, Motor};
use crate::parts::{Battery, Breaker, Cable, Fuse, Joint, ReversingContactor, Switch};
use crate::quantity::Resistance;

/// The schema version that this library reads and writes.
pub const SCHEMA: u32 = 1;

/// One complete reversing motor circuit: battery, isolator, breaker (or a fuse in its place), supply cable, reversing contactor, motor, load, ground
/// cable, and the control wiring.
///
/// Going round: `battery_positive` → isolator (`isolator_in`, `isolator_out`) → breaker (`breaker_in`, `breaker_out`) →
/// supply cable → `supply_stud` → contactor → `motor_a_stud` / `motor_b_stud` → motor leads → `motor_a` / `motor_b` → … →
/// `ground_stud` → ground cable → `battery_negative`, which is the reference. Every bolted or crimped connection is a joint
/// `<point>_joint` between `<point>` (the stud, the part) and `<point>_lug` (the conductor's end).
///
/// With a fuse in the breaker's place its points are `fuse_in` and `fuse_out`, with joints of those names.
///
/// A wound field lies outside the motor studs, so that the contactor turns only the armature round: a series field between
/// supply cable and supply stud (… supply cable → `field_in` → field → `field_out` → `supply_stud`), a shunt field across the
/// studs (`supply_stud` → `shunt_in` → field → `shunt_out` → `ground_stud`).
///
/// A drive is a value: a change makes a copy. It reads from and writes to TOML.
///
/// # Example
/// ```
/// use stallpoint::drive::{Direction, Drive, StartOptions};
///
/// let drive = Drive::from_toml_str(stallpoint::drive::BOAT_LIFT)?;
/// let start = drive.start(Direction::Forward, &StartOptions::hold("3 s")?)?;
/// assert!(start.surge.peak_current > 100.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drive {
    /// Version of this description: 1.
    pub schema: u32,
    /// What the drive is called in reports.
    pub name: String,
    /// Where its data come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The battery.
    pub battery: Battery,
    /// Cable from the battery to the isolator; a bus bar when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub battery_lead: Option<Cable>,
    /// The battery disconnect switch.
    #[serde(default)]
    pub isolator: Switch,
    /// Cable from the isolator to the breaker; a bus bar when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub isolator_lead: Option<Cable>,
    /// The protective device, unless a fuse is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breaker: Option<Breaker>,
    /// A fuse in the breaker's place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuse: Option<Fuse>,
    /// Cable from the breaker to the contactor's supply stud.
    pub supply_cable: Cable,
    /// The reversing contactor.
    pub contactor: ReversingContactor,
    /// Each of the two cables from the contactor to the motor; bus bars when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub motor_lead: Option<Cable>,
    /// The motor.
    pub motor: Motor,
    /// Loads on the motor's shaft.
    #[serde(default)]
    pub load: Vec<Load>,
    /// Cable from the contactor's ground stud to battery negative.
    pub ground_cable: Cable,
    /// Joints that are not as good as new, by name.
    #[serde(default)]
    pub joints: BTreeMap<String, Joint>,
    /// The enclosure.
    #[serde(default)]
    pub case: Case,
    /// How the contactor's coils are fed.
    #[serde(default)]
    pub control: ControlWiring,
    /// Limits for the checks.
    #[serde(default)]
    pub limits: Limits,
    /// What is wrong between the parts.
    #[serde(default, skip_serializing_if = "Alterations::is_none")]
    pub faults: Alterations,
}

/// The enclosure or chassis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Case {
    /// Whether it is bonded to the ground stud (through `case_joint`); it floats otherwise.
    pub bonded: bool,
}

impl Default for Case {
    fn default() -> Self {
        Self { bonded: true }
    }
}

/// Where the control switch takes its supply.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ControlSupply {
    /// On the battery's side of the breaker: the coils stay energised when the breaker opens.
    #[default]
    BeforeBreaker,
    /// Behind the breaker.
    AfterBreaker,
}

/// Where the coils' return wire goes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CoilReturn {
    /// To battery negative through its own wire: a bad ground joint does not weaken the coils.
    #[default]
    BatteryNegative,
    /// To the ground stud: a bad ground joint takes voltage from the coils too.
    GroundStud,
    /// To the case.
    Case,
}

/// The control circuit: supply wire, a switch with two positions, a signal wire to each coil, a return wire.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ControlWiring {
    /// Where the switch takes its supply.
    pub supply: ControlSupply,
    /// Where the coils' return wire goes.
    pub coil_return: CoilReturn,
    /// Resistance of the wire to the switch, ohm (default typical, no source).
    pub supply_wire_resistance: Resistance,
    /// Resistance of each signal wire, ohm (default typical, no source).
    pub signal_wire_resistance: Resistance,
    /// Resistance of the return wire, ohm (default typical, no source).
    pub return_wire_resistance: Resistance,
}

impl Default for ControlWiring {
    fn default() -> Self {
        Self {
            supply: ControlSupply::default(),
            coil_return: CoilReturn::default(),
            supply_wire_resistance: Resistance::from_si(0.05),
            signal_wire_resistance: Resistance::from_si(0.1),
            return_wire_resistance: Resistance::from_si(0.05),
        }
    }
}

/// Names of the joints that every drive has: the points of the loop, and the case's bond.
pub const JOINTS: [&str; 13] = [
    "battery_positive_joint",
    "isolator_in_joint",
    "isolator_out_joint",
    "breaker_in_joint",
    "breaker_out_joint",
    "supply_stud_joint",
    "motor_a_stud_joint",
    "motor_a_joint",
    "motor_b_joint",
    "motor_b_stud_joint",
    "ground_stud_joint",
    "battery_negative_joint",
    "case_joint",
];

/// Names of the joints that only a motor with a wound field has: a series field's in the supply lead, a shunt field's across
/// the contactor's supply and ground studs.
pub const FIELD_JOINTS: [&str; 4] = ["field_in_joint", "field_out_joint", "shunt_in_joint", "shunt_out_joint"];

/// Names of the joints that a drive with a fuse has in place of the breaker's two.
pub const FUSE_JOINTS: [&str; 2] = ["fuse_in_joint", "fuse_out_joint"];

/// Whether some drive has a joint of this name.
pub(crate) fn is_joint(name: &str) -> bool {
    JOINTS.contains(&name) || FIELD_JOINTS.contains(&name) || FUSE_JOINTS.contains(&name)
}

/// Whether a table of a description may be missing because all in it is as new or nothing is said: a joint, a motor's faults.
pub(crate) fn may_be_absent(path: &[&str]) -> bool {
    match path {
        ["joints", joint] => is_joint(joint),
        ["contactor", "duty_rating"] => true,
        ["faults"] | ["faults", "series" | "bridges"] => true,
        ["motor", "faults" | "variation"] | ["motor", "armature", "faults" | "variation"] => true,
        ["contactor" | "battery", "faults"] => true,
        // One contact's entry may be a table, {pitted = …}, as each coil's is.
        ["contactor", "faults", which] => {
            matches!(*which, "supply_a" | "ground_a" | "supply_b" | "ground_b" | "coil_a" | "coil_b")
        }
        _ => false,
    }
}

impl Drive {
    /// The cables that it describes, by their keys; the motor lead stands for two.
    pub fn cables(&self) -> Vec<(&'static str, &Cable)> {
        let leads = [
            ("battery_lead", &self.battery_lead),
            ("isolator_lead", &self.isolator_lead),
            ("motor_lead", &self.motor_lead),
        ];
        let leads = leads.into_iter().filter_map(|(name, lead)| Some((name, lead.as_ref()?)));
        [("supply_cable", &self.supply_cable), ("ground_cable", &self.ground_cable)].into_iter().chain(leads).collect()
    }

    /// Names of its joints.
    pub fn joint_names(&self) -> Vec<&'static str> {
        let mut names = JOINTS.to_vec();
        if self.protection().fuse().is_some() {
            let of_breaker = names.iter_mut().filter(|name| name.starts_with("breaker"));
            of_breaker.zip(FUSE_JOINTS).for_each(|(name, own)| *name = own);
        }
        for place in self.motor.fields() {
            names.extend(match place {
                FieldPlace::SupplyLead { .. } => &FIELD_JOINTS[..2],
                FieldPlace::AcrossSupply { .. } => &FIELD_JOINTS[2..],
            });
        }
        names
    }

    /// The joint of this name, as new when the description does not mention it.
    ///
    /// # Errors
    /// No such joint.
    pub fn joint(&self, name: &str) -> Result<Joint, Error> {
        let known = self.joint_names();
        if !known.contains(&name) {
            return Err(Error::option("joint", &format!("\"{name}\""), &format!("one of {}", known.join(", "))));
        }
        Ok(self.joints.get(name).cloned().unwrap_or_default())
    }

    /// Refuses a description that cannot be a drive, naming the part and the argument.
    ///
    /// # Errors
    /// The part, its kind, the argument, its value and what is allowed.
    pub fn check(&self) -> Result<(), Error> {
        if self.schema != SCHEMA {
            let allowed = format!("{SCHEMA}, the version that this library reads");
            return Err(Error::option("schema", &self.schema.to_string(), &allowed));
        }
        let device: (&str, &dyn Part) = match (&self.breaker, &self.fuse) {
            (Some(breaker), None) => ("breaker", breaker),
            (None, Some(fuse)) => ("fuse", fuse),
            (Some(_), Some(_)) => {
                return Err(Error::option("fuse", "given beside a breaker", "one of the two: leave out the other"));
            }
            (None, None) => {
                let allowed = "a table [breaker] or a table [fuse]: something must end a short circuit";
                return Err(Error::option("breaker", "missing", allowed));
            }
        };
        let mut parts: Vec<(&str, &dyn Part)> = vec![
            ("battery", &self.battery),
            ("isolator", &self.isolator),
            device,
            ("contactor", &self.contactor),
            ("motor", self.motor.part()),
        ];
        parts.extend(self.cables().into_iter().map(|(name, cable)| (name, cable as &dyn Part)));
        parts.extend(self.load.iter().map(|load| ("load", load.part())));
        parts.extend(self.joints.iter().map(|(name, joint)| (name.as_str(), joint as &dyn Part)));
        for (name, part) in parts {
            part.check().map_err(|source| Error::part(name, part.kind(), source))?;
        }
        for name in self.joints.keys() {
            self.joint(name)?;
        }
        self.control.check().map_err(|source| Error::part("control", "control wiring", source))?;
        self.faults.check().map_err(|source| Error::part("faults", "faults", source))?;
        let limits = self.limits.check().and_then(|()| self.check_cut_off());
        limits.map_err(|source| Error::part("limits", "limits", source))
    }
}

impl ControlWiring {
    fn check(&self) -> Result<(), PartError> {
        crate::parts::above_zero("supply_wire_resistance", self.supply_wire_resistance)?;
        crate::parts::above_zero("signal_wire_resistance", self.signal_wire_resistance)?;
        crate::parts::above_zero("return_wire_resistance", self.return_wire_resistance)
    }
}
