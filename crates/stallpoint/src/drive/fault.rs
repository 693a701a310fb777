//! Faults switched on by name.

use super::description::{Drive, FIELD_JOINTS, JOINTS, is_joint};
use crate::error::Error;
use crate::quantity::{IntoQuantity, Resistance};

/// A fault of one part. For now: a joint with a given total resistance.
///
/// # Example
/// ```
/// use stallpoint::drive::Fault;
///
/// let corroded = Fault::joint("ground_stud_joint", "60 mohm")?;
/// assert_eq!(corroded.to_string(), "ground_stud_joint at 0.06 ohm");
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The part.
    pub part: String,
    /// Its total resistance.
    pub resistance: Resistance,
}

impl Fault {
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
        Ok(Self { part: name.into(), resistance })
    }

    pub(crate) fn apply(&self, drive: &Drive) -> Result<Drive, Error> {
        let mut faulty = drive.clone();
        let mut joint = drive.joint(&self.part)?;
        joint.resistance = self.resistance;
        faulty.joints.insert(self.part.clone(), joint);
        faulty.check()?;
        Ok(faulty)
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "{} at {}", self.part, self.resistance)
    }
}
