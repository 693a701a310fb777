//! A film in a joint that breaks down.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::quantity::{Current, Resistance, Voltage};

/// A film between stud and lug: a poor conductor until the voltage across it breaks it down (fritting).
///
/// ```text
/// whole:        v = (R + R_film) i       until R_film |i| reaches the breakdown voltage
/// broken down:  v = R i                  until |i| falls below `reforms_below`, if that is given
/// ```
///
/// A meter, a lamp or a coil leaves it whole and finds ohms; the motor's current goes through what is left after it broke down,
/// [`Joint::resistance`](super::Joint::resistance).
///
/// Limits: whole, it is a plain resistance; broken down, its resistance is given and not the current's; it breaks down at
/// once. A joint that comes apart has its film again when it comes together.
///
/// Source: what happens, after R. Holm, Electric Contacts (from memory); values typical, no source.
///
/// # Example
/// ```
/// use stallpoint::parts::{Film, Joint};
///
/// let green = Joint { film: Some(Film::default()), ..Joint::new("60 mohm")? };
/// assert_eq!(green.film.unwrap().breakdown_voltage.si(), 5.0);
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Film {
    /// Resistance while it is whole, on top of the joint's, ohm.
    pub resistance: Resistance,
    /// Voltage across it at which it breaks down, V.
    pub breakdown_voltage: Voltage,
    /// Current below which it is whole again, A; once broken down it stays so when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reforms_below: Option<Current>,
}

impl Default for Film {
    // Both typical, no source.
    fn default() -> Self {
        let (resistance, breakdown_voltage) = (Resistance::from_si(3.0), Voltage::from_si(5.0));
        Self { resistance, breakdown_voltage, reforms_below: None }
    }
}

impl Film {
    pub(super) fn check(&self) -> Result<(), PartError> {
        use crate::parts::{above_zero, in_range};
        above_zero("film.resistance", self.resistance)?;
        above_zero("film.breakdown_voltage", self.breakdown_voltage)?;
        let Some(current) = self.reforms_below else { return Ok(()) };
        // Otherwise the current at which it becomes whole would break it down at once.
        let most = self.breakdown_voltage.si() / self.resistance.si();
        let holds = current.si() > 0.0 && current.si() < most;
        in_range(
            "film.reforms_below",
            current,
            holds,
            &format!("above 0 A and below {most} A, at which it breaks down"),
        )
    }

    /// Above zero where it breaks down.
    pub(super) fn breaks(&self, current: f64) -> f64 {
        self.resistance.si() * current.abs() - self.breakdown_voltage.si()
    }

    /// Above zero where it is whole again.
    pub(super) fn reforms(&self, current: f64) -> f64 {
        self.reforms_below.map_or(-1.0, |least| least.si() - current.abs())
    }
}
