//! A fault: what, and how bad.

use super::catalogue::fault_catalogue;
use super::entry::Entry;
use crate::drive::description::{Drive, FIELD_JOINTS, JOINTS, is_joint};
use crate::error::Error;
use crate::quantity::{IntoQuantity, Resistance};

/// A fault of a drive: a part, how it fails, and how bad.
///
/// The [catalogue](super::fault_catalogue) lists what a drive can have. Faults compose: `drive.with_fault(…)?.with_fault(…)?`.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Drive, Fault};
///
/// let corroded = Fault::joint("ground_stud_joint", "60 mohm")?;
/// assert_eq!(corroded.to_string(), "ground_stud_joint corroded at 0.06 ohm");
/// let worn = Fault::new("motor", "worn_brushes").with_amount(0.1);
/// let both = Drive::from_toml_str(BOAT_LIFT)?.with_fault(&corroded)?.with_fault(&worn)?;
/// assert_eq!(both.motor.armature().faults.brush_resistance.si(), 0.1);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The part: a joint, a conductor, a device, a wire.
    pub part: String,
    /// How it fails: "corroded", "open", "welded".
    pub mode: String,
    /// How bad, in the unit that the catalogue says; the catalogue's typical amount when left out.
    pub amount: Option<f64>,
}

impl Fault {
    /// A fault of the catalogue, typically bad. It is looked up when a drive gets it.
    pub fn new(part: impl Into<String>, mode: impl Into<String>) -> Self {
        Self { part: part.into(), mode: mode.into(), amount: None }
    }

    /// As bad as `amount` says, in the unit of the catalogue.
    pub fn with_amount(self, amount: f64) -> Self {
        Self { amount: Some(amount), ..self }
    }

    /// A joint whose total resistance is `resistance` (ohm, or a text with a unit).
    ///
    /// # Errors
    /// No such joint; a wrong unit; a resistance that is not above zero.
    pub fn joint(name: &str, resistance: impl IntoQuantity<Resistance>) -> Result<Self, Error> {
        if !is_joint(name) {
            let wound = FIELD_JOINTS.join(", ");
            let allowed = format!("a joint of the drive: {}; with a wound field {wound}", JOINTS.join(", "));
            return Err(Error::option("part", &format!("\"{name}\""), &allowed));
        }
        let resistance = crate::parts::quantity("resistance", resistance)?;
        crate::parts::above_zero("resistance", resistance)?;
        Ok(Self::new(name, CORRODED).with_amount(resistance.si()))
    }

    /// Name of the fault: part and mode.
    pub fn name(&self) -> String {
        format!("{} {}", self.part, self.mode)
    }

    /// What the catalogue says of it for a drive.
    ///
    /// # Errors
    /// The drive has no such part, or the part no such mode.
    pub fn entry(&self, drive: &Drive) -> Result<Entry, Error> {
        let mut catalogue = fault_catalogue(drive);
        if let Some(found) = catalogue.iter().position(|e| e.part == self.part && e.mode == self.mode) {
            return Ok(catalogue.swap_remove(found));
        }
        let modes: Vec<&str> = catalogue.iter().filter(|e| e.part == self.part).map(|e| e.mode.as_str()).collect();
        if modes.is_empty() {
            let known = crate::circuit::closest(&self.part, parts(&catalogue).into_iter());
            return Err(Error::option("part", &format!("\"{}\"", self.part), &format!("a part with faults; {known}")));
        }
        let allowed = format!("a fault of {}: {}", self.part, modes.join(", "));
        Err(Error::option("mode", &format!("\"{}\"", self.mode), &allowed))
    }

    pub(in crate::drive) fn apply(&self, drive: &Drive) -> Result<Drive, Error> {
        if self.mode == CORRODED && is_joint(&self.part) {
            return self.apply_to_joint(drive);
        }
        let mut description = drive.to_value()?;
        self.entry(drive)?.apply(drive, &mut description, self.amount)?;
        Drive::from_value(description)
    }

    /// The fault that stall thresholds look for, without the way through the catalogue.
    fn apply_to_joint(&self, drive: &Drive) -> Result<Drive, Error> {
        let amount = match self.amount {
            Some(amount) => amount,
            None => self.entry(drive)?.typical().unwrap_or_default(),
        };
        let mut faulty = drive.clone();
        let mut joint = drive.joint(&self.part)?;
        joint.resistance = Resistance::from_si(amount);
        faulty.joints.insert(self.part.clone(), joint);
        faulty.check()?;
        Ok(faulty)
    }
}

/// The mode of a joint with resistance.
const CORRODED: &str = "corroded";

fn parts(catalogue: &[Entry]) -> Vec<&str> {
    let mut parts: Vec<&str> = catalogue.iter().map(|e| e.part.as_str()).collect();
    parts.dedup();
    parts
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "{} {}", self.part, self.mode)?;
        match self.amount {
            Some(amount) if self.mode == CORRODED => write!(f, " at {}", Resistance::from_si(amount)),
            Some(amount) => write!(f, " at {amount}"),
            None => Ok(()),
        }
    }
}
