//! What the detailed fidelity needs beside the data sheet.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::PartError;
use crate::parts::{above_zero, in_range};
use crate::quantity::{Fraction, Length, Mass, Time};

/// An armature that moves by its forces; given as `detailed` of a [`ReversingContactor`](crate::parts::ReversingContactor) it
/// replaces the fixed times, at the same terminals.
///
/// ```text
/// i = λ/L(s) + c λⁿ,  L(s) = L_open + (L_0 - L_open) s / (1 + a (1 - s)),  s = x / travel: the flux–current curve
/// m dv/dt = ½ (λ/L)² dL/dx - F_spring(x) - F_contact,  dx/dt = v
/// F_contact = P + k δ while the blade lies on a contact or bounces off it;  m_b dw/dt = -(P + k δ) in its flight
/// ```
///
/// `L_0` is the sealed inductance times `unsaturated_gain`; `c` puts the chord at rated current on the sealed inductance. The
/// total force at seal is that of the magnet at the drop-out current; `a` is such that the pull-in current just carries the
/// armature through, against every point of the springs: both are the data sheet's, as in the quick fidelity. All forces are
/// shares of that at seal, so that the inductances set the scale.
///
/// Impacts: the armature on its stops and the blade on its contacts rebound with their restitution; what is lost is booked at
/// that instant. Below `least_rebound_speed` it lies still; the blade then has made. A blade that bounces stays on the contact
/// for `touch_time` before it leaves; an arc follows as in the quick fidelity, over the gap of the moving blade.
///
/// Weld risk: the states `making_a_arc_energy` (J, of the arcs while the contacts bounce) and `making_a_bounce_i2t` (A²·s, of
/// the current while the blade still bounces), and the same of `b`, count from each making on and stay until the
/// next; what a contact withstands is for its data sheet to say.
///
/// Limits: no eddy currents but the core loss; no damping in flight; both contacts of an armature are one blade; a welded
/// contact is refused (the quick fidelity has it). An operating point takes the armature across at constant current.
///
/// Source: force from the field's energy at constant flux, any textbook of electromechanics; every default typical, no source.
///
/// # Example
/// ```
/// use stallpoint::drive::{BOAT_LIFT, Direction, Drive, StartOptions};
/// use stallpoint::parts::MovingArmature;
///
/// let mut drive = Drive::from_toml_str(BOAT_LIFT)?;
/// drive.contactor.detailed = Some(MovingArmature::default());
/// let start = drive.start(Direction::Forward, &StartOptions::hold("0.3 s")?)?;
/// assert!(start.events.iter().any(|event| event.what == "set A makes"));
/// # Ok::<(), stallpoint::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct MovingArmature {
    /// Travel from rest to seal, m.
    pub travel: Length,
    /// Travel after the blade touches, m; when braked at rest also that before it leaves the rest contact.
    pub overtravel: Length,
    /// Moving mass with the blade, kg; left out: such that the springs alone would take it back in about the release time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass: Option<Mass>,
    /// Share of that mass that is the blade.
    pub blade_share: Fraction,
    /// Force of the return spring at rest, over the total force at seal.
    pub return_spring_share: Fraction,
    /// Contact force at first touch, over the total force at seal.
    pub contact_force_share: Fraction,
    /// What the full overtravel adds to the contact force, over that at first touch.
    pub contact_spring_rise: Fraction,
    /// Speed of the blade after an impact over that before.
    pub contact_restitution: Fraction,
    /// Speed of the armature after hitting a stop over that before.
    pub stop_restitution: Fraction,
    /// Rebound speed below which there is none, m/s.
    pub least_rebound_speed: f64,
    /// How long a blade that bounces stays on the contact, s.
    pub touch_time: Time,
    /// Exponent `n` of the saturation, an odd whole number above 1.
    pub saturation_exponent: i32,
    /// Sealed inductance without saturation over that at rated current.
    pub unsaturated_gain: Fraction,
}

impl Default for MovingArmature {
    // typical, no source
    fn default() -> Self {
        Self {
            travel: Length::from_si(5e-3),
            overtravel: Length::from_si(1e-3),
            mass: None,
            blade_share: Fraction::from_si(0.1),
            return_spring_share: Fraction::from_si(0.5),
            contact_force_share: Fraction::from_si(0.15),
            contact_spring_rise: Fraction::from_si(0.5),
            contact_restitution: Fraction::from_si(0.4),
            stop_restitution: Fraction::from_si(0.2),
            least_rebound_speed: 0.02,
            touch_time: Time::from_si(0.1e-3),
            saturation_exponent: 7,
            unsaturated_gain: Fraction::from_si(1.4),
        }
    }
}

impl MovingArmature {
    pub(super) fn check(&self, braked: bool) -> Result<(), PartError> {
        above_zero("detailed.travel", self.travel)?;
        let (over, travel) = (self.overtravel, self.travel.si());
        let most = if braked { 0.5 * travel } else { travel };
        in_range(
            "detailed.overtravel",
            over,
            over.si() > 0.0 && over.si() < most,
            &format!("above 0 m and below {most} m"),
        )?;
        if let Some(mass) = self.mass {
            above_zero("detailed.mass", mass)?;
        }
        let share = |argument: &str, value: Fraction| {
            in_range(argument, value, value.si() > 0.0 && value.si() < 1.0, "between 0 and 1")
        };
        share("detailed.blade_share", self.blade_share)?;
        share("detailed.return_spring_share", self.return_spring_share)?;
        share("detailed.contact_force_share", self.contact_force_share)?;
        share("detailed.contact_restitution", self.contact_restitution)?;
        share("detailed.stop_restitution", self.stop_restitution)?;
        crate::parts::not_negative("detailed.contact_spring_rise", self.contact_spring_rise)?;
        above_zero("detailed.touch_time", self.touch_time)?;
        let contact = self.contact_force_share.si() * (1.0 + self.contact_spring_rise.si());
        let spring = self.return_spring_share;
        let least = if braked { contact } else { 0.0 };
        let allowed = format!(
            "between {least} (else it does not hold the rest contact) and {} (else nothing is left for the working contact)",
            1.0 - contact
        );
        in_range(
            "detailed.return_spring_share",
            spring,
            spring.si() > least && spring.si() <= 1.0 - contact,
            &allowed,
        )?;
        if !(self.least_rebound_speed > 0.0 && self.least_rebound_speed.is_finite()) {
            let given = self.least_rebound_speed.to_string();
            return Err(PartError::range("detailed.least_rebound_speed", given, "above 0 m/s"));
        }
        if self.saturation_exponent < 3 || self.saturation_exponent % 2 == 0 || self.saturation_exponent > 31 {
            let given = self.saturation_exponent.to_string();
            return Err(PartError::range("detailed.saturation_exponent", given, "an odd number, 3 to 31"));
        }
        let gain = self.unsaturated_gain;
        in_range("detailed.unsaturated_gain", gain, gain.si() >= 1.0, "1 or more")
    }
}
