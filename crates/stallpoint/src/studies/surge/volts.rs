//! Where the volts go, and the watts.

use super::DirectionRuns;
use crate::circuit::{OperatingOptions, Trace};
use crate::drive::{Direction, Drive, StartOptions};
use crate::error::Error;

/// A state of a drive in which its voltages can be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moment {
    /// The control at rest.
    AtRest,
    /// The largest current of a start.
    AtPeak,
    /// The control held from standstill, until nothing changes: running, or stalled if it does not break away.
    Held,
    /// The shaft blocked, the contactor held.
    LockedRotor,
}

/// To what an element of the loop belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// Inside the battery: series resistance and polarisation.
    Battery,
    /// From battery positive to the supply stud, without joints.
    SupplyRun,
    /// Bolted and crimped connections.
    Joints,
    /// The contactor's two contacts in the loop.
    Contactor,
    /// The two leads from the contactor to the motor.
    MotorLeads,
    /// The motor.
    Motor,
    /// From the ground stud to battery negative, without joints.
    GroundRun,
}

impl Group {
    /// All, as the loop goes round.
    pub const ALL: [Self; 7] =
        [Self::Battery, Self::SupplyRun, Self::Joints, Self::Contactor, Self::MotorLeads, Self::Motor, Self::GroundRun];

    /// Its words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Battery => "inside the battery",
            Self::SupplyRun => "supply run without joints",
            Self::Joints => "all joints together",
            Self::Contactor => "contactor",
            Self::MotorLeads => "motor leads",
            Self::Motor => "motor",
            Self::GroundRun => "ground run without joints",
        }
    }
}

/// What several elements of the loop lose together.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Loss {
    /// Volts in the direction of the loop.
    pub volts: f64,
    /// Watts.
    pub watts: f64,
}

/// One element of the loop.
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// The element.
    pub element: String,
    /// To what it belongs.
    pub group: Group,
    /// From which point.
    pub from: String,
    /// To which point.
    pub to: String,
    /// Volts from the first point to the second.
    pub volts: f64,
    /// Watts.
    pub watts: f64,
}

/// The loop's voltages in one state of the drive. Their sum is the open-circuit voltage.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltsLost {
    /// Which state: "at rest", "surge peak, forward, 21 ms", "running forward".
    pub when: String,
    /// Open-circuit voltage of the battery, V.
    pub open_circuit: f64,
    /// Battery terminal voltage, V.
    pub battery: f64,
    /// Current through the motor, A.
    pub current: f64,
    /// Every element from inside the battery round to battery negative.
    pub drops: Vec<Drop>,
}

impl VoltsLost {
    /// The element of this name: "ground_stud_joint", "supply_cable", "motor".
    pub fn element(&self, name: &str) -> Option<&Drop> {
        self.drops.iter().find(|drop| drop.element == name)
    }

    /// What the elements of a group lose together.
    pub fn group(&self, group: Group) -> Loss {
        let of_group = self.drops.iter().filter(|drop| drop.group == group);
        of_group
            .fold(Loss::default(), |sum, drop| Loss { volts: sum.volts + drop.volts, watts: sum.watts + drop.watts })
    }

    /// Voltage from one point of the loop to a later one, V; none when the loop does not have them in that order.
    pub fn between(&self, from: &str, to: &str) -> Option<f64> {
        let first = self.drops.iter().position(|drop| drop.from == from)?;
        let last = first + self.drops[first..].iter().position(|drop| drop.to == to)?;
        Some(self.drops[first..=last].iter().map(|drop| drop.volts).sum())
    }
}

/// Where the volts go in a drive, faulty or not.
///
/// # Errors
/// A description that cannot be a drive; a drive without an operating point (its contactor chatters): the error names the
/// contactor; look at [`Drive::start`] instead.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Direction, Drive, Fault};
/// use stallpoint::studies::surge::{Moment, volts_lost};
///
/// let drive = Drive::from_toml_str(BOAT_LIFT)?.with_fault(&Fault::joint("ground_stud_joint", "0.12 ohm")?)?;
/// let lost = volts_lost(&drive, Direction::Forward, Moment::Held)?;
/// let joint = lost.element("ground_stud_joint").unwrap();
/// assert!(joint.volts > 5.0 && joint.watts > 300.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
pub fn volts_lost(drive: &Drive, direction: Direction, moment: Moment) -> Result<VoltsLost, Error> {
    match moment {
        Moment::AtRest => {
            let rest = drive.operating_point(None, &OperatingOptions::default())?;
            in_row(&rest, direction, "at rest".into())
        }
        Moment::AtPeak => {
            let start = drive.start(direction, &StartOptions::hold(1.0)?)?;
            let row = start.sample(&[start.surge.time_of_peak])?;
            in_row(&row, direction, peak_words(direction, start.surge.time_of_peak))
        }
        Moment::Held => {
            let held = drive.operating_point(Some(direction), &OperatingOptions::default())?;
            let state = if held.stuck { "stalled" } else { "running" };
            in_row(&held, direction, format!("{state} {direction}"))
        }
        Moment::LockedRotor => {
            let locked = drive.locked_rotor(direction)?;
            in_row(&locked, direction, format!("locked rotor {direction}"))
        }
    }
}

fn peak_words(direction: Direction, time: f64) -> String {
    format!("surge peak {direction}, {}", crate::report::quantity(time, "s"))
}

/// The loop in a direction, with a series field in the supply lead or without: element, its group, the point after it. It
/// begins at battery positive.
fn elements(direction: Direction, device: &str, series_field: bool) -> Vec<(String, Group, String)> {
    let (device_in, device_out) = (format!("{device}_in"), format!("{device}_out"));
    let (first, second) = match direction {
        Direction::Forward => ("a", "b"),
        Direction::Reverse => ("b", "a"),
    };
    let mut elements: Vec<(String, Group, String)> = Vec::new();
    let mut go = |element: &str, group: Group, to: &str| elements.push((element.into(), group, to.into()));
    let mut lead = |before: &str, part: &str, group: Group, after: &str| {
        go(&format!("{before}_joint"), Group::Joints, &format!("{before}_lug"));
        go(part, group, &format!("{after}_lug"));
        go(&format!("{after}_joint"), Group::Joints, after);
    };
    let (stud_1, stud_2) = (format!("motor_{first}_stud"), format!("motor_{second}_stud"));
    let (motor_1, motor_2) = (format!("motor_{first}"), format!("motor_{second}"));
    lead("battery_positive", "battery_lead", Group::SupplyRun, "isolator_in");
    lead("isolator_out", "isolator_lead", Group::SupplyRun, &device_in);
    if series_field {
        lead(&device_out, "supply_cable", Group::SupplyRun, "field_in");
        lead("field_out", "field_lead", Group::SupplyRun, "supply_stud");
    } else {
        lead(&device_out, "supply_cable", Group::SupplyRun, "supply_stud");
    }
    lead(&stud_1, &format!("motor_lead_{first}"), Group::MotorLeads, &motor_1);
    lead(&motor_2, &format!("motor_lead_{second}"), Group::MotorLeads, &stud_2);
    lead("ground_stud", "ground_cable", Group::GroundRun, "battery_negative");
    // The parts between the leads, each after three elements of a lead.
    let mut between =
        vec![("isolator", Group::SupplyRun, "isolator_out"), (device, Group::SupplyRun, device_out.as_str())];
    if series_field {
        between.push((SERIES_FIELD, Group::Motor, "field_out"));
    }
    between.extend([
        (SUPPLY_CONTACT, Group::Contactor, stud_1.as_str()),
        ("motor", Group::Motor, motor_2.as_str()),
        (GROUND_CONTACT, Group::Contactor, "ground_stud"),
    ]);
    for (k, (element, group, to)) in between.into_iter().enumerate() {
        elements.insert(4 * k + 3, (element.into(), group, to.into()));
    }
    elements
}

/// What the contacts of the loop are called.
const SUPPLY_CONTACT: &str = "contact on the supply side";
const SERIES_FIELD: &str = "series field";
const GROUND_CONTACT: &str = "contact on the ground side";

/// The loop's voltages in the only row of a trace.
pub(super) fn in_row(trace: &Trace, direction: Direction, when: String) -> Result<VoltsLost, Error> {
    let open_circuit = trace.state("battery", "open_circuit_voltage")?[0];
    let battery = trace.voltage("battery_positive")?[0];
    let inside = open_circuit - battery;
    let battery_current = trace.current("battery")?[0].abs();
    let mut drops = vec![Drop {
        element: "inside the battery".into(),
        group: Group::Battery,
        from: "open circuit".into(),
        to: "battery_positive".into(),
        volts: inside,
        watts: inside * battery_current,
    }];
    let (there, back) = (direction.letter(), direction.opposite().letter());
    let series_field = trace.voltage("field_in").is_ok();
    let device = if trace.voltage("fuse_in").is_ok() { "fuse" } else { "breaker" };
    for (element, group, to) in elements(direction, device, series_field) {
        // The point before is where the last element led to.
        let from = drops.last().map_or_else(String::new, |drop| drop.to.clone());
        let volts = trace.voltage_between(&from, &to)?[0];
        let current = match element.as_str() {
            SUPPLY_CONTACT => trace.state("contactor", &format!("supply_{there}_current"))?[0],
            GROUND_CONTACT => trace.state("contactor", &format!("ground_{back}_current"))?[0],
            SERIES_FIELD => trace.current("supply_cable")?[0],
            part => trace.current(part)?[0],
        };
        drops.push(Drop { element, group, from, to, volts, watts: volts * current.abs() });
    }
    Ok(VoltsLost { when, open_circuit, battery, current: trace.current("motor")?[0].abs(), drops })
}

/// At rest, at the peak of the surge, at the end of the hold.
pub(super) fn lost(drive: &Drive, runs: &DirectionRuns) -> Result<Vec<VoltsLost>, Error> {
    let peak_at = runs.start.surge.time_of_peak;
    let end = runs.start.time().last().copied().unwrap_or(0.0);
    let (peak, last) = (runs.start.sample(&[peak_at])?, runs.start.sample(&[end])?);
    Ok(vec![
        volts_lost(drive, runs.direction, Moment::AtRest)?,
        in_row(&peak, runs.direction, peak_words(runs.direction, peak_at))?,
        in_row(&last, runs.direction, format!("{} {}", runs.held(), runs.direction))?,
    ])
}
