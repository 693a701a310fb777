//! Which wire on which stud.

use crate::drive::{CoilReturn, ControlSupply, Direction, Drive};
use crate::error::Error;

/// A wire with its two ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wire {
    /// Its name.
    pub wire: String,
    /// The stud or terminal of its first end.
    pub from: String,
    /// The stud or terminal of its second end.
    pub to: String,
}

impl Wire {
    /// A wire.
    pub fn new(wire: &str, from: &str, to: &str) -> Self {
        Self { wire: wire.into(), from: from.into(), to: to.into() }
    }
}

/// The wiring map of a drive: every wire with the studs it belongs on, whatever is swapped on it now.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive};
/// use stallpoint::studies::commissioning::wiring_map;
///
/// let map = wiring_map(&Drive::from_toml_str(BOAT_LIFT)?);
/// assert!(map.iter().any(|wire| wire.wire == "signal_wire_a" && wire.to == "coil_a"));
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn wiring_map(drive: &Drive) -> Vec<Wire> {
    let series = drive.joint_names().contains(&"field_in_joint");
    let shunt = drive.joint_names().contains(&"shunt_in_joint");
    let mut map = vec![
        Wire::new("battery_lead", "battery_positive", "isolator_in"),
        Wire::new("isolator_lead", "isolator_out", &drive.own_name("breaker_in")),
        Wire::new("supply_cable", &drive.own_name("breaker_out"), if series { "field_in" } else { "supply_stud" }),
    ];
    if series {
        map.push(Wire::new("field_lead", "field_out", "supply_stud"));
    }
    if shunt {
        map.push(Wire::new("shunt_supply_lead", "supply_stud", "shunt_in"));
        map.push(Wire::new("shunt_ground_lead", "shunt_out", "ground_stud"));
    }
    map.extend([
        Wire::new("motor_lead_a", "motor_a_stud", "motor_a"),
        Wire::new("motor_lead_b", "motor_b_stud", "motor_b"),
        Wire::new("ground_cable", "ground_stud", "battery_negative"),
    ]);
    if drive.case.bonded {
        map.push(Wire::new("case_bond", "case", "ground_stud"));
    }
    let tap = drive.own_name(match drive.control.supply {
        ControlSupply::BeforeBreaker => "breaker_in",
        ControlSupply::AfterBreaker => "breaker_out",
    });
    map.push(Wire::new("control_supply_wire", &tap, "control_supply"));
    for letter in Direction::BOTH.map(Direction::letter) {
        let (wire, out) = (format!("signal_wire_{letter}"), format!("control_out_{letter}"));
        map.push(Wire::new(&wire, &out, &format!("coil_{letter}")));
    }
    let back = match drive.control.coil_return {
        CoilReturn::BatteryNegative => "battery_negative",
        CoilReturn::GroundStud => "ground_stud",
        CoilReturn::Case => "case",
    };
    map.push(Wire::new("coil_return_wire", "coil_return", back));
    map
}

/// A wire that is not where it belongs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Misplaced {
    /// As found.
    pub found: Wire,
    /// As it should be.
    pub wanted: Wire,
    /// What is wrong, and what it does where that is known.
    pub words: String,
}

/// Checks wires as found against the map. Wires that were not looked at may be left out; either end may be named first.
///
/// # Errors
/// A wire that the drive does not have.
pub fn check_wiring(drive: &Drive, found: &[Wire]) -> Result<Vec<Misplaced>, Error> {
    let map = wiring_map(drive);
    let mut wrong = Vec::new();
    for own in found {
        let Some(wanted) = map.iter().find(|wire| wire.wire == own.wire) else {
            let known: Vec<&str> = map.iter().map(|wire| wire.wire.as_str()).collect();
            return Err(Error::option("wire", &format!("\"{}\"", own.wire), &format!("one of {}", known.join(", "))));
        };
        let same =
            (&own.from, &own.to) == (&wanted.from, &wanted.to) || (&own.to, &own.from) == (&wanted.from, &wanted.to);
        if !same {
            let effect = effect(&own.wire, wanted, own);
            let words = format!(
                "{} goes from {} to {}, but was found from {} to {}{effect}",
                wanted.wire, wanted.from, wanted.to, own.from, own.to
            );
            wrong.push(Misplaced { found: own.clone(), wanted: wanted.clone(), words });
        }
    }
    Ok(wrong)
}

/// What a misplaced wire does.
fn effect(wire: &str, wanted: &Wire, found: &Wire) -> &'static str {
    let ends = [found.from.as_str(), found.to.as_str()];
    match wire {
        "motor_lead_a" | "motor_lead_b" => ": the motor turns the other way",
        "signal_wire_a" | "signal_wire_b" if ends.iter().any(|end| end.starts_with("coil_")) => {
            ": the control works the other direction"
        }
        "supply_cable" if ends.contains(&"ground_stud") => {
            ": at rest both motor studs are live, and a permanent-magnet motor turns the other way"
        }
        "ground_cable" if ends.contains(&"supply_stud") => ": the contactor's ground stud is live",
        "coil_return_wire" if ends.contains(&"ground_stud") && wanted.to == "battery_negative" => {
            ": a bad ground joint now weakens the coils, and the contactor may chatter"
        }
        _ => "",
    }
}
